import type { DrawEdit } from './drafting.ts';

/** Words for cords, boning, wires, frames, closures, feet and hardware on the drafting table. */
export const trim = {
  mode: 'Close and trim',
  stiffen: 'Stiffened by',
  nothing: 'nothing',
  members: {
    'cotton cord': 'piping, cotton cord',
    'paper cord': 'piping, paper cord',
    'plastic cord': 'piping, plastic cord',
    'plastic boning': 'boning, plastic',
    'spiral steel boning': 'boning, spiral steel',
    'spring wire': 'spring wire',
    'webbing binding': 'binding, webbing',
    'coil zip': 'zip, coil',
    'metal zip': 'zip, metal teeth',
    'metal frame': 'metal frame',
    figures: 'of its own figures',
  } as Readonly<Record<string, string>>,
  does: {
    'cotton cord': 'Rounds the edge and shows its line. It bends almost as easily as the cloth.',
    'paper cord': 'Keeps a rim or a seam in its line. It stays bent where it is bent hard.',
    'plastic cord': 'Springs back to its line. Stiffer when cold.',
    'plastic boning': 'Keeps an edge straight. It bends one way, flat, and not the other.',
    'spiral steel boning': 'Goes round curves both ways, and holds less than a flat bone.',
    'spring wire': 'Holds a mouth open in the shape it is bent to. Bend it to the line before it is sewn in.',
    'webbing binding': 'Covers the raw edge and steadies it a little.',
    'coil zip': 'Its tapes and teeth steady the edge they are sewn to.',
    'metal zip': 'Heavier and stiffer than a coil; its teeth hinge on one another.',
    'metal frame': 'Holds the mouth in its own shape. Its weight sits at the top.',
    figures: '',
  } as Readonly<Record<string, string>>,
  weighs: (perMetre: string): string => `${perMetre} a metre.`,
  allRound: (length: string): string => `on round all of the open edge, ${length}`,
  sizes: {
    'cotton cord': 'Cord across',
    'paper cord': 'Cord across',
    'plastic cord': 'Cord across',
    'spring wire': 'Wire across',
  } as Readonly<Record<string, string>>,
  width: 'Its width',
  usual: (size: string): string => `empty: ${size}`,
  stops: 'Stops before the ends',
  stopsNote: 'a cord is cut out of the seam allowance',
  shape: 'Bent before sewing',
  shapes: { '': 'no, it is straight', 'as drawn': 'to its line as drawn', 'as sewn': 'to its line in the sewn bag' } as Readonly<Record<string, string>>,
  ring: 'Its ends',
  rings: { '': 'stay open', ring: 'joined to a ring' } as Readonly<Record<string, string>>,
  takeOff: 'Take it away',
  takeOffOf: (name: string): string => `Take ${name} away`,
  alsoAlong: (refs: string): string => `It runs along ${refs}.`,
  stretch: 'Only a stretch of the edge',
  doing: 'What you put on',
  doings: { closure: 'A closure', metal: 'Feet, metal' } as const,
  closures: 'Closures',
  closureHint: 'Say what closes it and where. Or press the two places on the drawing.',
  zipHint: 'Pick the two edges that it joins, here or on the drawing.',
  cordHint: 'Pick the edges that its channel follows, one way round.',
  kind: 'It is a',
  kinds: {
    magnet: 'magnet',
    snap: 'snap',
    buckle: 'buckle',
    'turn lock': 'turn lock',
    'coil zip': 'zip, coil',
    'metal zip': 'zip, metal teeth',
    drawstring: 'drawstring',
    'cinch strap': 'cinch strap',
  } as const,
  from: 'One part on',
  to: 'The other on',
  edge: 'at edge',
  share: 'along it',
  inset: 'in from it',
  sideOne: 'One edge',
  sideTwo: 'Other edge',
  noEdge: 'pick an edge …',
  channel: 'Channel along',
  allMouth: (refs: string): string => `all round: ${refs}`,
  below: 'Below the edge',
  drawnTo: 'Drawn to',
  cutLength: (length: string): string => `${length} as it is cut`,
  putOn: 'Put it on',
  firstPart: 'One part is there. Now the other.',
  noClosures: 'Nothing closes it yet.',
  closedWhen: 'Closed when',
  across: 'Across',
  metal: 'Feet and metal',
  metalHint: 'Say where it sits. Or press the place on the drawing.',
  metals: {
    foot: 'foot',
    ring: 'ring',
    rivet: 'rivet',
    stud: 'stud',
    buckle: 'buckle',
    slider: 'slider',
    hook: 'hook',
    clasp: 'clasp',
    'corner plate': 'corner plate',
  } as const,
  under: 'Under panel',
  count: 'How many',
  footInset: 'In from the edge',
  height: 'Height',
  heightUsual: (height: string): string => `how far they lift the bag; empty: ${height}`,
  on: 'On panel',
  mass: 'Each weighs',
  massUsual: (mass: string): string => `empty: ${mass}, an estimate`,
  noMetal: 'No metal on it yet.',
  together: (mass: string): string => `${mass} together`,
  noEdges: 'No edge is left open for it. Unpick a seam, or leave an edge open.',
  /** "boning: stops short, 12 mm" */
  changed: (name: string, key: string, value: string): string => `${name}: ${key}, ${value === '' ? 'as usual' : value}`,
  off: (name: string, what: string): string => `${name}: ${what}`,
} as const;

/** What such an edit is called for Undo and in what is said aloud. */
export function nameOfTrim(edit: Extract<DrawEdit, { do: 'member' | 'member kind' | 'closure' | 'closed' | 'hardware' | 'feet' | 'take off' }>): string {
  switch (edit.do) {
    case 'member':
      return `${trim.members[edit.member.kind]} along ${edit.member.along}`;
    case 'member kind':
      return `${edit.name} is ${trim.members[edit.kind]} now`;
    case 'closure':
      return `${trim.kinds[edit.closure.kind]} put on`;
    case 'closed':
      return `${edit.closure} ${edit.on ? 'closed' : 'open'} when ${edit.stance}`;
    case 'hardware':
      return `${edit.hardware.kind} put on ${edit.hardware.at[0]?.panel}`;
    case 'feet':
      return `${edit.feet.count} feet put under ${edit.panel}`;
    case 'take off':
      return `${edit.name} taken off`;
  }
}
