/** The fixed words of the bag file. The material ids are the file's vocabulary; src/material must hold a preset for each (checked by the compiler). */

export const WANTED = ['slouchy', 'soft', 'structured', 'rigid'] as const;
/** Parts of a bag that a panel can be. */
export const ROLES = ['front', 'back', 'side', 'gusset', 'base', 'body', 'flap', 'pocket', 'strap', 'trim', 'flat'] as const;
/** Ways a seam is made. */
export const SEAM_TYPES = ['plain', 'turned', 'lapped', 'bound', 'topstitched', 'fold'] as const;
/** How the allowances of a plain or turned seam are pressed before the bag is filled. */
export const PRESSED = ['unpressed', 'open', 'to one side', 'creased'] as const;
/** How an edge that no seam takes up is finished. */
export const FINISHES = ['raw', 'turned once', 'turned twice', 'faced', 'bound'] as const;
/** Lines that are stiff by themselves: cords (piping), boning, wire, binding, zips, frames; or one whose figures are all stated. */
export const MEMBERS = [
  'cotton cord',
  'paper cord',
  'plastic cord',
  'spring wire',
  'plastic boning',
  'spiral steel boning',
  'webbing binding',
  'coil zip',
  'metal zip',
  'metal frame',
  'figures',
] as const;
/** Metal parts: rings and the like by the strap they take; or one whose mass is stated. */
export const HARDWARE = ['ring', 'slider', 'buckle', 'hook', 'clasp', 'foot', 'corner plate', 'rivet', 'stud', 'other'] as const;
/** What holds a bag shut: at one place, along two edges, or as a loop through a channel. */
export const CLOSURES = ['magnet', 'snap', 'buckle', 'turn lock', 'tie', 'coil zip', 'metal zip', 'drawstring', 'cinch strap'] as const;
/** A stance whose bag has none of its closures on, open or shut. */
export const LEFT_OUT = 'left out';
/** Ways a strap's end is sewn on. */
export const ANCHORS = ['box', 'box with cross', 'row', 'rivet', 'ring loop'] as const;
export const STANCES = ['standing', 'held', 'hung'] as const;
/** What a bag can hang from. */
export const HANGS_FROM = ['hook', 'bar', 'shoulder', 'hands'] as const;
/** What a bag can stand on. */
export const GROUNDS = ['table', 'nothing'] as const;
export const SIDES = ['front', 'back', 'left', 'right'] as const;
export const BASES = ['free', 'hinged', 'glued'] as const;
/** Rigid things that a bag can lean on or lie over. */
export const FORMS = ['block', 'ball', 'egg', 'roll', 'bolster'] as const;
/** Rigid things that a bag can hold: six everyday ones of a usual size, and two plain shapes of any size. */
export const THINGS = ['bottle', 'book', 'tin', 'tablet', 'ball', 'umbrella', 'block', 'roll'] as const;
export const JOINS = ['loose', 'bonded', 'fused'] as const;

/** Does a seam catch a layer in its allowance, or is the layer cut back to the stitch line? */
export const IN_SEAMS = ['caught', 'cut out'] as const;
/** How several swatches make the low, middle and high figure of a material. */
export const SWATCH_RULES = ['min median max', 't interval'] as const;

/** Ids of the built-in materials. */
export const PRESET_IDS = [
  'lawn',
  'muslin',
  'poplin',
  'quilting',
  'canvas8',
  'canvas10',
  'canvas12',
  'duck10',
  'canvas16',
  'duck8',
  'canvas24',
  'waxed10',
  'denim11',
  'denim14raw',
  'uphfabric',
  'lamb',
  'upholstery',
  'suede',
  'chrome_skived',
  'chrome16',
  'chrome20',
  'veg_skived',
  'veg12',
  'veg20',
  'veg32',
  'fus_light',
  'fus_medium',
  'fus_heavy',
  'fus_woven_light',
  'fus_woven',
  'fus_woven_heavy',
  'fus_knit_light',
  'fus_knit',
  'fus_knit_heavy',
  'sewin',
  'fleece_light',
  'fleece',
  'fleece_heavy',
  'foam',
  'pefoam',
  'nwboard',
  'leatherboard0.8',
  'leatherboard',
  'leatherboard1.6',
  'fibreboard0.6',
  'fibreboard1',
  'fibreboard1.5',
  'pp0.5',
  'pp0.8',
  'pp1',
  'pp1.5',
  'ldpe1',
  'hdpe1',
  'vinyl',
  'coatedcotton',
  'packcloth',
  'cork',
  'felt2',
  'felt4',
  'neoprene2',
  'neoprene4',
  'mesh',
  'spacermesh',
  'web_pp',
  'web_cotton',
  'web_strap_leather',
] as const;

/** Id of a built-in material. */
export type PresetId = (typeof PRESET_IDS)[number];

/** The entry of an option that covers every panel it does not name. */
export const EVERY_PANEL = 'every panel';

/** Limits beyond which a figure is a slip of the pen (or an attack), not a bag. SI. */
export const LIMITS = {
  length: 5,
  shortest: 1e-4,
  arealMass: 20,
  thickness: 0.05,
  bending: 1e4,
  inPlane: 1e9,
  hinge: 1e4,
  allowance: 0.1,
  friction: 3,
  mass: 100,
  panels: 400,
  edges: 4000,
  edgesPerPanel: 200,
  bytes: 2_000_000,
  depth: 64,
  formula: 400,
} as const;

/** "an egg", "a roll". */
export const withArticle = (word: string): string => `${/^[aeiou]/.test(word) ? 'an' : 'a'} ${word}`;
