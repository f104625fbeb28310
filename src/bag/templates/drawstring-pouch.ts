import type { TemplateSource } from './template.ts';

/** Boxed corners as in the boxed tote; the casing is the doubled top that a cord would run through. The cord itself is left out. */
const half = [
  { at: [0, 0], edge: 'bottom' },
  { at: ['W/2', 0], edge: 'cut up' },
  { at: ['W/2', 'D/2'], edge: 'cut out' },
  { at: ['(W + D)/2', 'D/2'], edge: 'side' },
  { at: ['(W + D)/2', 'H + D/2'], edge: 'top' },
  { at: [0, 'H + D/2'] },
];
const fold = 'crease';
/** Creased into the box that the cut-outs make, along base line and uprights; crease 0 turns freely, which is the cautious side. */
const lines = {
  'base line': {
    points: [
      ['-W/2', 'D/2'],
      ['W/2', 'D/2'],
    ],
    fold,
  },
  'left upright': {
    points: [
      ['-W/2', 'D/2'],
      ['-W/2', 'H + D/2'],
    ],
    fold,
  },
  'right upright': {
    points: [
      ['W/2', 'D/2'],
      ['W/2', 'H + D/2'],
    ],
    fold,
  },
};
const casing = { above: 'H + D/2 - casing', stack: 'cotton casing' };
const sewn = { type: 'plain', allowance: 'SA' };

export const drawstringPouch: TemplateSource = {
  name: 'drawstring-pouch',
  title: 'Drawstring pouch',
  question: 'A small pouch that is meant to slump, left open, its cord left out. Question: how far does it go down?',
  bag: {
    wanted: 'slouchy',
    parameters: { W: '5 in', H: '6 1/2 in', D: '2 in', casing: '3/4 in', SA: '6 mm', crease: '0 mm' },
    panels: {
      front: { half, open: ['top'], marks: { 'front rim': 'top[50%]' }, regions: { casing }, lines },
      back: { copy: 'front', open: ['top'], marks: { 'back rim': 'top[50%]' }, regions: { casing }, lines },
    },
    seams: {
      bottom: { join: ['front.bottom', 'back.bottom'], ...sewn },
      'right side': { join: ['front.side right', 'back.side left'], ...sewn },
      'left side': { join: ['front.side left', 'back.side right'], ...sewn },
      'front right corner': { join: ['front.cut up right', 'front.cut out right'], ...sewn },
      'front left corner': { join: ['front.cut up left', 'front.cut out left'], ...sewn },
      'back right corner': { join: ['back.cut up right', 'back.cut out right'], ...sewn },
      'back left corner': { join: ['back.cut up left', 'back.cut out left'], ...sewn },
    },
    stacks: {
      cotton: ['quilting', { loose: 'lawn' }],
      'cotton casing': ['quilting', { loose: 'quilting' }],
      leather: ['lamb'],
      'leather casing': ['lamb', { loose: 'lamb' }],
    },
    options: {
      'quilting cotton, lawn lining': { 'every panel': 'cotton' },
      'garment lamb': { 'every panel': 'leather', 'front/casing': 'leather casing', 'back/casing': 'leather casing' },
    },
    stances: { standing: { friction: 0.4 } },
  },
};
