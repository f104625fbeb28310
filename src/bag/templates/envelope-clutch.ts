import type { TemplateSource } from './template.ts';

const wall = { rectangle: { width: 'W', height: 'H' } };
const finishes = { top: { finish: 'turned once', width: '10 mm' } };
const side = { role: 'side', rectangle: { width: 'D', height: 'H' }, open: ['top'], finishes };
const sewn = { type: 'plain', allowance: 'SA' };

/** The base is seen from its face, that is from below: its right edge lies on the bag's left. */
export const envelopeClutch: TemplateSource = {
  name: 'envelope-clutch',
  title: 'Envelope clutch',
  question: 'A small clutch whose pointed flap folds over the mouth. Question: does the flap lie down over the front, or does it curl away?',
  bag: {
    wanted: 'structured',
    parameters: { W: '8 in', H: '5 in', D: '2 in', fall: '0.6*H', R: '3/4 in', SA: '5 mm' },
    panels: {
      front: { ...wall, open: ['top'], finishes, marks: { 'front rim': 'top[50%]' } },
      back: { ...wall, open: [] },
      left: side,
      right: side,
      base: { rectangle: { width: 'W', height: 'D' } },
      flap: {
        note: 'level over the depth of the bag, then tapering to a rounded point',
        outline: [
          { at: [0, 0], edge: 'fold' },
          { at: ['W', 0], edge: 'right end' },
          { at: ['W', 'D'], edge: 'right taper' },
          { at: ['W/2', 'D + fall'], edge: 'left taper', radius: 'R' },
          { at: [0, 'D'], edge: 'left end' },
        ],
        open: ['right end', 'right taper', 'right taper-left taper', 'left taper', 'left end'],
        marks: { 'flap point': 'right taper-left taper[50%]' },
      },
    },
    seams: {
      'front base': { join: ['front.bottom', 'base.bottom'], ...sewn },
      'back base': { join: ['back.bottom', 'base.top'], ...sewn },
      'left base': { join: ['left.bottom', 'base.right'], ...sewn },
      'right base': { join: ['right.bottom', 'base.left'], ...sewn },
      'front right': { join: ['front.right', 'right.left'], ...sewn },
      'back right': { join: ['right.right', 'back.left'], ...sewn },
      'back left': { join: ['back.right', 'left.left'], ...sewn },
      'front left': { join: ['left.right', 'front.left'], ...sewn },
      'flap fold': { join: ['back.top', 'flap.fold'], type: 'fold', allowance: 'SA' },
    },
    closures: {
      snap: { kind: 'snap', from: { panel: 'flap', at: ['W/2', 'D + fall - 22 mm'] }, to: { panel: 'front', at: ['W/2', 'H - fall + 22 mm'] } },
    },
    stacks: {
      'cotton light': ['quilting', { fused: 'fus_light' }, { loose: 'quilting' }],
      'cotton boarded': ['quilting', { fused: 'nwboard' }, { loose: 'quilting' }],
      'cotton fleeced': ['quilting', { fused: 'fus_heavy' }, { loose: 'quilting' }],
      leather: ['veg12'],
    },
    options: {
      'quilting cotton, light fusible': { 'every panel': 'cotton light' },
      'quilting cotton on board, fused flap': { 'every panel': 'cotton boarded', flap: 'cotton fleeced' },
      'vegetable-tanned leather': { 'every panel': 'leather' },
    },
    stances: { standing: { friction: 0.4, closed: 'left out' }, 'flap down': { friction: 0.4, closed: ['snap'] } },
  },
};
