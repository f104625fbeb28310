import { boxedSeams, boxedHalf as half, boxedLines as lines } from './boxed.ts';
import type { TemplateSource } from './template.ts';

const base = { rectangle: { at: ['-W/2', 0], width: 'W', height: 'D/2' }, stack: 'cloth lined' };
const sewn = { type: 'plain', allowance: 'SA' };

/** Two halves of a frame, each bent to its half of the open mouth before it is sewn in, hinged to each other where the side seams end. */
export const frameBag: TemplateSource = {
  name: 'frame-bag',
  title: 'Frame-mouth bag',
  question: 'A soft bag that hangs from a metal frame in its mouth, standing open. Question: what does the frame hold up that the cloth does not?',
  bag: {
    wanted: 'soft',
    parameters: { W: '9 in', H: '7 in', D: '4 in', SA: '8 mm', crease: '0 mm', channel: '15 mm', frame: '8 mm' },
    panels: {
      front: {
        half,
        open: ['top'],
        finishes: { top: { finish: 'turned once', width: 'channel' } },
        marks: { 'front rim': 'top[50%]' },
        regions: { base },
        lines,
      },
      back: {
        copy: 'front',
        open: ['top'],
        finishes: { top: { finish: 'turned once', width: 'channel' } },
        marks: { 'back rim': 'top[50%]' },
        regions: { base },
        lines,
      },
    },
    seams: boxedSeams(sewn),
    members: {
      'front frame': { along: 'front.top', kind: 'metal frame', size: 'frame', formed: 'as sewn', length: 'W + D' },
      'back frame': { along: 'back.top', kind: 'metal frame', size: 'frame', formed: 'as sewn', length: 'W + D' },
    },
    stacks: {
      'cloth lined': ['canvas10', { loose: 'poplin' }],
      fleeced: ['canvas10', { fused: 'fleece' }, { loose: 'poplin' }],
      'base board': ['canvas10', { loose: 'pp1' }, { loose: 'poplin' }],
      leather: ['chrome16'],
      'leather base': ['chrome16', { bonded: 'leatherboard' }],
    },
    options: {
      'canvas, fleece, poplin, base board': { 'every panel': 'fleeced', 'front/base': 'base board', 'back/base': 'base board' },
      'chrome-tanned leather': { 'every panel': 'leather', 'front/base': 'leather base', 'back/base': 'leather base' },
    },
    stances: { standing: { friction: 0.4 } },
  },
};
