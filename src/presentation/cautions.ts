/**
 * Shown wherever the text proposes to disconnect, open, replace or measure something. Common practice, no source; from the
 * same practice that IEC 62446-1 and IEC 61829 presume (from memory, not confirmed).
 */
export const cautionsTitle = 'Before anyone opens or disconnects anything';

export const cautions: readonly string[] = [
  'A string is live whenever light falls on it, up to 1500 V DC, and cannot be switched off at the modules. It stays live towards the module side when the inverter is off.',
  'Open the load first: stop the inverter, open its DC switch, and only then the fuses. Never unmate a connector or draw a fuse under load.',
  'A DC arc does not go out by itself. If one burns, do not pull further: get clear, and stop the current elsewhere.',
  'Lock out and tag what was opened, so that nobody closes it while you work.',
  'Verify the absence of current with a clamp meter at the very lead that is to be opened, and the voltage with a meter proved before and after. A string in parallel or an earth fault can feed it from the other side.',
  'Insulated gloves, eye protection and tools rated for the voltage and the possible arc; connectors opened with the tool of their maker, and mated only with their like.',
  'Two people, one of whom can call for help and knows where the current is stopped.',
  'Not in rain, on wet or icy roofs, in strong wind or with a thunderstorm near. Hot modules and leads burn.',
  'Working at height: guard rails, nets or a harness as the place demands; never step on modules.',
  'Only qualified and, where the law asks for it, licensed persons may do this work. Local codes, the site rules and the makers’ instructions come before this text.',
];

/** One paragraph of the same, where there is room for no more. */
export const cautionLine =
  'Strings are live in daylight, up to 1500 V DC, and DC arcs do not go out by themselves. Open the load first, never unmate a connector under load; lock out; verify with a clamp meter that no current flows; insulated gloves and rated tools; two people; not in wet or wind; secured at height. Qualified and licensed persons only; local codes come first.';
