import { boxedSeams, boxedHalf as half, boxedLines as lines } from './boxed.ts';
import type { TemplateSource } from './template.ts';

const base = { rectangle: { at: ['-W/2', 0], width: 'W', height: 'D/2' }, stack: 'cloth lined' };
const corner = { type: 'plain', allowance: 'SA' };
/** Feet sit this far in from the finished corners of the base. */
const inward = 'D/2 - 20 mm';

/** The boxed tote with a cord round its rim and one in each side seam. Five feet: four at the corners of the base, one in its middle, beside the seam; four leave that out, none all. */
export const pipedTote: TemplateSource = {
  name: 'piped-tote',
  title: 'Piped boxed tote',
  question: 'A boxed tote with a stiff cord round its rim and in its side seams, on feet or without. Question: does piping hold up walls that slump bare?',
  bag: {
    wanted: 'structured',
    parameters: { W: '15 in', H: '14 in', D: '4 in', SA: '10 mm', crease: '0 mm', inset: '0.3*W', handle: '22 in', cord: '5 mm', feet: 4 },
    panels: {
      front: { half, open: ['top'], marks: { 'front rim': 'top[50%]' }, regions: { base }, lines },
      back: { copy: 'front', open: ['top'], marks: { 'back rim': 'top[50%]' }, regions: { base }, lines },
    },
    seams: boxedSeams(corner),
    straps: {
      handle: { width: '1 in', length: 'handle', stack: 'webbing', from: { panel: 'front', 'from left': 'D/2 + inset' }, to: 'mirrored', 'also on': ['back'] },
    },
    members: {
      rim: { along: ['front.top', 'back.top'], kind: 'paper cord', size: 'cord', ends: 'ring' },
      'right piping': { along: 'front.side right', kind: 'paper cord', size: 'cord', 'stops short': 'SA' },
      'left piping': { along: 'front.side left', kind: 'paper cord', size: 'cord', 'stops short': 'SA' },
    },
    hardware: {
      'front feet': {
        kind: 'foot',
        panel: 'front',
        at: [
          ['20 mm - W/2', inward],
          ['W/2 - 20 mm', inward],
          [0, '5 mm'],
        ],
        count: 'max(feet - 2, 0)',
      },
      'back feet': {
        kind: 'foot',
        panel: 'back',
        at: [
          ['20 mm - W/2', inward],
          ['W/2 - 20 mm', inward],
        ],
        count: 'min(feet, 2)',
      },
    },
    stacks: {
      'cloth lined': ['canvas10', { loose: 'poplin' }],
      fleeced: ['canvas10', { fused: 'fleece' }, { loose: 'poplin' }],
      foamed: ['canvas10', { fused: 'foam' }, { loose: 'poplin' }],
      'base board': ['canvas10', { loose: 'pp1' }, { loose: 'poplin' }],
      webbing: ['web_cotton'],
    },
    options: {
      'canvas, fleece, poplin, base board': { 'every panel': 'fleeced', 'front/base': 'base board', 'back/base': 'base board' },
      'canvas, foam, poplin, base board': { 'every panel': 'foamed', 'front/base': 'base board', 'back/base': 'base board' },
    },
    stances: { standing: { friction: 0.4 }, hung: { from: 'hook' } },
  },
};
