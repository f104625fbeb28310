import { boxedSeams, boxedHalf as half, boxedLines as lines } from './boxed.ts';
import type { TemplateSource } from './template.ts';

const base = { rectangle: { at: ['-W/2', 0], width: 'W', height: 'D/2' }, stack: 'cloth lined' };
const finishes = { top: { finish: 'turned once', width: '30 mm' } };
const corner = { type: 'plain', allowance: 'SA' };

export const boxedTote: TemplateSource = {
  name: 'boxed-tote',
  title: 'Boxed tote',
  question: 'A tote with boxed corners. Question: which stack makes walls of this height stand, and does a base board help them?',
  bag: {
    wanted: 'structured',
    parameters: { W: '15 in', H: '14 in', D: '4 in', SA: '10 mm', crease: '0 mm', inset: '0.3*W', handle: '22 in' },
    panels: {
      front: { half, open: ['top'], marks: { 'front rim': 'top[50%]' }, regions: { base }, lines, finishes },
      back: { copy: 'front', open: ['top'], marks: { 'back rim': 'top[50%]' }, regions: { base }, lines, finishes },
    },
    seams: boxedSeams(corner),
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
