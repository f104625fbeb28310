import type { DrawEdit } from './drafting.ts';
import { nameOfTrim, trim } from './trim-words.ts';

/** Words of the drafting table: drawing, sewing, straps. */
export const draw = {
  tools: 'Drafting table',
  modes: { shape: 'Shape panels', sew: 'Sew edges', strap: 'Straps', close: trim.mode },
  mode: 'What you are doing',
  newBag: 'A new bag',
  newBagHint: 'Clear the table and draw a bag of your own. The bag you have now can be brought back with Undo.',
  newPanel: 'Another panel',
  empty: 'The table is empty. Draw the first panel of your bag.',
  emptySaid: 'The table is empty. Say what the first panel is, and its sizes.',
  bagName: 'Bag is called',
  ownBag: 'My bag',
  aPanel: 'A panel',
  firstPanel: 'The first panel',
  shape: 'Shape',
  shapes: { rectangle: 'rectangle', trapezoid: 'tapered', circle: 'circle', half: 'half' },
  shapeNotes: {
    rectangle: '',
    trapezoid: 'wider at one end than at the other',
    circle: '',
    half: 'one half is drawn and mirrored: both sides stay alike',
  },
  kind: 'It is the',
  panelName: 'Name',
  sizes: {
    width: 'Width',
    height: 'Height',
    diameter: 'Diameter',
    bottom: 'Lower edge',
    top: 'Upper edge',
  },
  asLong: (edge: string, length: string): string => `as long as ${edge}, ${length}`,
  mouth: 'its upper edge stays open',
  putOn: 'Put it on the table',
  leave: 'Leave it',
  roles: {
    front: 'front',
    back: 'back',
    side: 'side',
    gusset: 'gusset',
    base: 'base',
    body: 'body',
    flap: 'flap',
    pocket: 'pocket',
    strap: 'strap',
    trim: 'trim',
    flat: 'loose piece',
  },
  follows: (panel: string): string => `Follows the outline of ${panel}: what you change here changes both.`,
  panelTasks: 'With the whole panel',
  edgeTasks: 'With this edge',
  cornerTasks: 'With this corner',
  copy: 'Copy',
  mirror: 'Mirror',
  remove: 'Take off the table',
  own: 'Make its shape its own',
  mark: 'Mark',
  hole: 'Hole',
  foldAcross: 'Fold across',
  foldUp: 'Fold upright',
  notch: 'Notch in the middle',
  pocket: 'Pocket across',
  pocketHeight: 'Pocket height',
  finish: 'Edge finish',
  finishes: {
    '': 'not said',
    raw: 'raw, or painted',
    'turned once': 'hem, turned once',
    'turned twice': 'hem, turned twice',
    faced: 'faced',
    bound: 'bound',
  },
  finishWidth: 'Width',
  finishWidths: {
    'turned once': ['10 mm', '3/8 in'],
    'turned twice': ['30 mm', '1 1/4 in'],
    faced: ['50 mm', '2 in'],
    bound: ['10 mm', '3/8 in'],
  },
  cover: { faced: 'Facing cut from', bound: 'Binding cut from' },
  ownCover: "the panel's own cloth",
  alsoOn: (panel: string): string => `on ${panel} as well`,
  sewnIn: (seam: string): string => `Seam ${seam}`,
  putOnEdge: 'Put on this edge',
  flap: 'Flap',
  flapDepth: 'Flap, from its fold',
  flapRadius: 'Its corners',
  flapRadiusNote: 'radius; empty: square',
  flapDo: 'Sew on a flap',
  tabWidth: 'Tab width',
  tabLength: 'Tab length',
  tabDo: 'Sew on a tab',
  dartWidth: 'Dart takes up',
  dartDepth: 'Dart depth',
  dartAt: 'Dart at',
  dartDo: 'Sew a dart',
  foldWidth: 'Crease takes up',
  foldWidthNote: '0: scored, turns freely; empty: only a line',
  foldAngle: 'Turned to',
  foldAngleNote: 'such as 90 deg; empty: as the bag has it',
  lineTasks: 'With this line',
  straight: 'straight',
  arc: 'arc',
  curve: 'curve',
  bend: 'The edge is',
  cut: 'New corner at',
  cutDo: 'Put it there',
  middle: '50 %',
  openEdge: 'stays open',
  deleteCorner: 'Take this corner away',
  deleteInside: 'Take it away',
  radius: 'Round it by',
  sewThis: 'Sew this edge',
  nameIt: 'Make it a size of the bag',
  label: 'what it is called',
  labelDo: 'Name it',
  sizesTitle: 'Sizes of the bag',
  sizesHint: 'What each size is called. Other sizes can be written with it.',
  sewTitle: 'Sew two edges together',
  sewHint: 'Pick an edge, then the one it is sewn to. What fits lights up.',
  several: 'several edges to a side',
  first: 'One side',
  second: 'Other side',
  pick: 'pick an edge …',
  nextSide: 'Now the other side',
  sew: 'Sew them together',
  clear: 'Start again',
  drop: (ref: string): string => `Leave ${ref} out`,
  part: 'Only a stretch of it',
  partHint: 'from and to, such as 0 and 60 %, or 0 and 120 mm',
  from: 'from',
  to: 'to',
  fits: 'fits',
  eases: (by: string): string => `${by} to ease in`,
  longer: (by: string): string => `${by} longer`,
  shorter: (by: string): string => `${by} shorter`,
  sewnAlready: 'sewn',
  open: 'open',
  gusset: 'Or sew in a gusset of the right length',
  gussetWidth: 'Gusset width',
  gussetDo: (length: string): string => `Sew in a gusset ${length} long`,
  seams: 'Seams',
  noSeams: 'Nothing is sewn yet.',
  seamType: 'Kind',
  types: { '': 'plain', plain: 'plain', turned: 'turned', lapped: 'lapped', bound: 'bound', topstitched: 'topstitched', fold: 'fold' },
  allowance: 'Allowance',
  allowanceUsual: '10 mm',
  pressed: 'Pressed',
  presses: { '': 'not stated', unpressed: 'not pressed', open: 'open', 'to one side': 'to one side', creased: 'creased' },
  gathered: 'Gathered',
  gatheredNote: 'such as 1.5 to 1; empty: not gathered',
  unpick: 'Unpick',
  seamLine: (a: string, b: string): string => `${a} to ${b}`,
  straps: 'Straps',
  strapHint: 'Press on a panel where one end is sewn on, then where the other is. Or give the distances.',
  strapPanel: 'On panel',
  strapFrom: 'From each side',
  strapTop: 'From the top',
  strapWidth: 'Width',
  strapLength: 'Length',
  strapBoth: (panel: string): string => `on ${panel} as well`,
  strapDo: 'Sew it on',
  strapOff: 'Take off',
  strapFirst: 'One end is there. Now the other.',
  strapOn: (panels: string): string => `on ${panels}`,
  under: 'A picture to draw after',
  underOf: (panel: string): string => `The picture under ${panel}`,
  underHint: 'It lies under the chosen panel at the size you say. It stays here until the page is closed; no bag file holds it.',
  underChoose: 'Choose a picture',
  underOther: 'Another picture',
  underOff: 'Take it away',
  underWidth: 'It is as wide as',
  underLeft: 'From the left',
  underUp: 'From below',
  underLaid: (panel: string): string => `The picture lies under ${panel}. Say how wide it is.`,
  underRefused: (name: string): string => `${name} is no picture that can be read here, or larger than 40 MB. Nothing is laid under.`,
  underSize: (typed: string): string => `"${typed}" is no size for the picture. Give a length, such as 300 mm or 12 in.`,
  troubles: 'Not right yet',
  noTroubles: 'Nothing is in the way of sewing it.',
  fault: 'must be mended',
  look: 'worth a look',
  show: 'Show me',
  showOf: (text: string): string => `Show me: ${text}`,
  more: (n: number): string => `and ${n} more`,
  refusedEdit: 'That cannot be done here. Nothing is changed.',
  edge: (panel: string, edge: string, length: string, state: string): string =>
    `${panel}, ${edge}: ${length}, ${state}. Enter picks it; arrow keys go on to the next edge.`,
  picked: (ref: string, length: string): string => `${ref} picked, ${length}. Pick what it is sewn to.`,
  sewn: (seam: string, a: string, b: string, apart: string): string => `Seam ${seam}: ${a} to ${b}, ${apart}.`,
  same: 'the same length',
  apart: (by: string): string => `${by} between them`,
  done: 'Done.',
} as const;

/** What an edit is called for Undo and in what is said aloud. */
export function nameOf(edit: DrawEdit): string {
  switch (edit.do) {
    case 'panel':
      return `panel ${edit.panel.name} drawn`;
    case 'copy':
      return `${edit.panel} copied`;
    case 'mirror':
      return `${edit.panel} mirrored`;
    case 'delete panel':
      return `${edit.panel} taken off the table`;
    case 'own shape':
      return `${edit.panel} has its own shape`;
    case 'rename':
      return `${edit.panel} is called ${edit.name}`;
    case 'role':
      return `${edit.panel} is the ${edit.role}`;
    case 'open':
      return `${edit.panel}.${edit.edge} ${edit.open ? 'stays open' : 'is to be sewn'}`;
    case 'split':
      return `new corner on ${edit.panel}.${edit.edge}`;
    case 'bend':
      return `${edit.panel}.${edit.edge} is ${edit.into === 'line' ? 'straight' : edit.into === 'arc' ? 'an arc' : 'a curve'}`;
    case 'delete corner':
      return `corner taken off ${edit.panel}`;
    case 'round':
      return `corner of ${edit.panel} rounded by ${edit.radius}`;
    case 'mark':
    case 'notch':
    case 'hole':
      return `${edit.do} on ${edit.panel}`;
    case 'line':
      return `fold line on ${edit.panel}`;
    case 'delete inside':
      return `${edit.what} taken off ${edit.panel}`;
    case 'sew':
      return `${edit.sides[0].join(' + ')} sewn to ${edit.sides[1].join(' + ')}`;
    case 'gusset':
      return 'gusset sewn in';
    case 'pocket':
      return `pocket sewn on ${edit.panel}`;
    case 'flap':
    case 'tab':
      return `${edit.do} sewn on ${edit.panel}.${edit.edge}`;
    case 'dart':
      return `dart sewn in ${edit.panel}.${edit.edge}`;
    case 'finish': {
      const { finish, width } = edit.choice;
      const of = `edge ${edit.edge} of ${edit.panel}`;
      return finish === null ? `nothing said of how ${of} is finished` : `${of}: ${draw.finishes[finish]}${finish === 'raw' ? '' : `, ${width}`}`;
    }
    case 'unpick':
      return `seam ${edit.seam} unpicked`;
    case 'fill':
      return `rounded corners sewn in seam ${edit.seam}`;
    case 'turn':
      return `seam ${edit.seam} turned round`;
    case 'seam':
      return `seam ${edit.seam} changed`;
    case 'strap':
      return `strap sewn on ${edit.strap.panel}`;
    case 'delete strap':
      return `strap ${edit.strap} taken off`;
    case 'member':
    case 'member kind':
    case 'closure':
    case 'closed':
    case 'hardware':
    case 'feet':
    case 'take off':
      return nameOfTrim(edit);
    case 'write': {
      const [what, name, key] = edit.path.map(String);
      return ['members', 'closures', 'hardware'].includes(what) ? trim.changed(name, key, edit.text) : `size ${edit.text}`;
    }
    case 'parameter':
      return `size of the bag "${edit.label}"`;
    case 'label':
      return `${edit.parameter} is called "${edit.label}"`;
  }
}
