/** Takes the place, in the bundles, of the parts of vega that no chart here asks for: maps, trees, clouds of words and so on. */
export {};
