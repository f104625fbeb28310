import type { TemplateSource } from './template.ts';

/** Half of the pattern, right of the centre line: a square of D/2 is cut from the lower corner, so that W x H x D is the finished size. */
const half = [
  { at: [0, 0], edge: 'bottom' },
  { at: ['W/2', 0], edge: 'cut up' },
  { at: ['W/2', 'D/2'], edge: 'cut out' },
  { at: ['(W + D)/2', 'D/2'], edge: 'side' },
  { at: ['(W + D)/2', 'H + D/2'], edge: 'top' },
  { at: [0, 'H + D/2'] },
];
const base = { rectangle: { at: ['-W/2', 0], width: 'W', height: 'D/2' }, stack: 'cloth lined' };
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
const corner = { type: 'plain', allowance: 'SA' };

export const boxedTote: TemplateSource = {
  name: 'boxed-tote',
  title: 'Boxed tote',
  question: 'A tote with boxed corners. Question: which stack makes walls of this height stand, and does a base board help them?',
  bag: {
    wanted: 'structured',
    parameters: { W: '15 in', H: '14 in', D: '4 in', SA: '10 mm', crease: '0 mm', inset: '0.3*W', handle: '22 in' },
    panels: {
      front: { half, open: ['top'], marks: { 'front rim': 'top[50%]' }, regions: { base }, lines },
      back: { copy: 'front', open: ['top'], marks: { 'back rim': 'top[50%]' }, regions: { base }, lines },
    },
    seams: {
      bottom: { join: ['front.bottom', 'back.bottom'], ...corner },
      'right side': { join: ['front.side right', 'back.side left'], ...corner },
      'left side': { join: ['front.side left', 'back.side right'], ...corner },
      'front right corner': { join: ['front.cut up right', 'front.cut out right'], ...corner },
      'front left corner': { join: ['front.cut up left', 'front.cut out left'], ...corner },
      'back right corner': { join: ['back.cut up right', 'back.cut out right'], ...corner },
      'back left corner': { join: ['back.cut up left', 'back.cut out left'], ...corner },
    },
    straps: {
      handle: { width: '1 in', length: 'handle', stack: 'webbing', from: { panel: 'front', 'from left': 'D/2 + inset' }, to: 'mirrored', 'also on': ['back'] },
    },
    stacks: {
      'cloth lined': ['canvas10', { loose: 'poplin' }],
      fleeced: ['canvas10', { fused: 'fleece' }, { loose: 'poplin' }],
      foamed: ['canvas10', { fused: 'foam' }, { loose: 'poplin' }],
      boarded: ['canvas10', { fused: 'nwboard' }, { loose: 'poplin' }],
      'base board': ['canvas10', { loose: 'pp1' }, { loose: 'poplin' }],
      webbing: ['web_cotton'],
    },
    options: {
      'canvas, fleece, poplin': { 'every panel': 'fleeced', 'front/base': 'fleeced', 'back/base': 'fleeced' },
      'canvas, foam, poplin, base board': { 'every panel': 'foamed', 'front/base': 'base board', 'back/base': 'base board' },
      'canvas, board, poplin, base board': { 'every panel': 'boarded', 'front/base': 'base board', 'back/base': 'base board' },
    },
    stances: { standing: { friction: 0.4 }, hung: { from: 'hook' } },
  },
};
