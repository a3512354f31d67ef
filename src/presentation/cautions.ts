/** Shown wherever the text proposes to disconnect, open or replace something. Common practice, no source. */
export const cautionsTitle = 'Before anyone opens or disconnects anything';

export const cautions: readonly string[] = [
  'A string is live whenever light falls on it, up to 1500 V DC, and cannot be switched off at the modules.',
  'A DC arc does not go out by itself. Never open a connector or a fuse under load: isolate first, then prove with a meter that no current flows.',
  'Work in pairs, with tools and protective equipment rated for the voltage and the possible arc. Cover or wait for darkness where the procedure asks for it.',
  'Only qualified and, where the law asks for it, licensed persons may do this work. Local codes, the site rules and the makers’ instructions come before this text.',
];

/** One line of the same, where there is room for no more. */
export const cautionLine =
  'Strings are live in daylight, up to 1500 V DC, and DC arcs do not go out by themselves: isolate first, never open under load, qualified persons only, local codes come first.';
