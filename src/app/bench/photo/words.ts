import type { Mark } from './marks.ts';

const ORDER = ['the start of a long side', 'the end of that long side', 'across from the start', 'across from the second'];

export const words = {
  title: 'A strip from a photograph',
  close: 'Close',
  how: 'Let the strip hang over the table’s edge, to about 45° from edge to tip. Stand a bank card close beside it, flush with its near side. Take the picture from the side. The picture stays on this machine.',
  file: 'Picture',
  load: 'Load or take a picture',
  another: 'Another picture',
  notPicture: 'This file is not a picture that the browser can read. Take a JPEG or PNG.',
  tooLarge: 'This file is too large. Take a picture under 80 MB.',
  loaded: (w: number, h: number): string => `Picture of ${w} by ${h} pixels.`,
  reduced: (w: number, h: number, tw: number, th: number): string => `Picture of ${w} by ${h} pixels, scaled down to ${tw} by ${th}.`,
  picture: 'The picture with its marks',
  scale: 'Scale from',
  by: { card: 'a bank card', ruler: 'a ruler, square on' },
  apart: 'Between the two ruler marks',
  hanging: 'Length that hangs',
  hangingHint: 'along the strip from the edge to its tip; left empty: read off the picture, less surely',
  second: 'Mark a second place on the table’s top (level; else the card’s side is taken as level)',
  whole: 'The whole picture, as a phone’s main camera took it: not cropped, not zoomed (with a card, the reading is surer)',
  snap: 'Snap to the silhouette',
  count: 'Points along the strip',
  fewer: 'One fewer',
  more: 'One more',
  direction: 'Strip cut',
  directions: { warp: 'lengthwise', weft: 'crosswise', bias: 'at 45°' },
  side: 'Side up',
  sides: { face: 'face', back: 'back' },
  end: 'End that hangs',
  ends: { first: 'first', other: 'other' },
  next: (what: string): string => `Next: click ${what}.`,
  all: 'Every mark is set. Drag a mark to move it.',
  keys: 'Keys: Tab to the next mark, arrows move it (Shift: ten pixels), Enter snaps it and goes on.',
  magnifier: 'What lies under the mark, enlarged',
  markOf: ({ kind, n, key }: Pick<Mark, 'kind' | 'n' | 'key'>): string => {
    if (kind === 'card') return `card corner ${n + 1}, ${ORDER[n]}`;
    if (kind === 'ruler') return `ruler mark ${n + 1}`;
    if (kind === 'edge') return 'the table’s edge, where the strip leaves it';
    if (kind === 'table') return 'a second place on the table’s top, behind the edge';
    return key === 'tip' ? 'the strip’s tip' : `point ${n + 1} on the strip’s upper side`;
  },
  clockwise: 'clockwise from the start of a long side',
  placed: (what: string, x: number, y: number): string => `${what}: ${x} across, ${y} down`,
  waiting: (what: string): string => `${what}, not yet set`,
  result: 'What it comes to',
  waits: (n: number): string => (n === 1 ? 'One mark is not set yet.' : `${n} marks are not set yet.`),
  length: 'Bending length',
  interval: (low: string, high: string): string => `90 % interval ${low} to ${high}`,
  overhang: 'Overhang at 41.5°',
  strip: 'Strip',
  stripOf: (length: string, angle: string): string => `${length} long, ${angle} from edge to tip`,
  off: 'Points off the strip',
  upTo: (length: string): string => `by up to ${length}; drawn ten times as long`,
  notes: 'What limits it',
  faults: 'To fix',
  keep: 'Keep this reading',
  kept: (length: string): string => `Kept: bending length ${length}.`,
  lens: 'The lens is left out: keep strip and card away from the picture’s corners.',
  expectedApart: 'Expected 10 mm to 5 m.',
} as const;
