import type { TemplateSource } from './template.ts';

const around = ['left', 'left-bottom', 'bottom', 'bottom-right', 'right'];
const over = ['right-top', 'top', 'top-left'];
const sewn = { type: 'plain', allowance: 'SA' };

/**
 * Front and back with four rounded corners. The strip that goes round below is shut to a ring by two zip halves that go over the top. The pocket
 * is caught in the front seam up to its own mouth, along the front's outline (its face outward too), from `above` the mouth to as far on the other side.
 */
export const backpack: TemplateSource = {
  name: 'backpack',
  title: 'Backpack with front pocket',
  question: 'A backpack, its zip open over the top. Question: does a stiff back panel hold it up while the front sags, or does it fall over?',
  bag: {
    wanted: 'structured',
    parameters: {
      W: '10 1/2 in',
      H: '15 1/2 in',
      D: '4 1/2 in',
      R: '2 1/2 in',
      pocket: '6 1/2 in',
      strip: 'W + 2*H - (6 - pi)*R',
      zip: 'W - (2 - pi)*R',
      above: 'H - R - pocket',
      SA: '10 mm',
    },
    panels: {
      front: { rectangle: { width: 'W', height: 'H', radius: 'R' }, chains: { around, over } },
      back: { copy: 'front' },
      gusset: { rectangle: { width: 'D', height: 'strip' } },
      'zip front': { role: 'gusset', rectangle: { width: 'zip', height: 'D/2' }, open: ['top'], marks: { 'front rim': 'top[50%]' } },
      'zip back': { role: 'gusset', rectangle: { width: 'zip', height: 'D/2' }, open: ['top'], marks: { 'back rim': 'top[50%]' } },
      pocket: {
        rectangle: { width: 'W', height: 'pocket', radius: ['R', 'R', 0, 0] },
        chains: { around },
        open: ['top'],
        finishes: { top: { finish: 'turned twice', width: '20 mm' } },
      },
    },
    seams: {
      'front strip': { join: ['front.around', 'gusset.left'], ...sewn },
      'back strip': { join: ['back.around', 'gusset.right'], ...sewn },
      'front zip': { join: ['front.over', 'zip front.bottom'], ...sewn },
      'back zip': { join: ['back.over', 'zip back.bottom'], ...sewn },
      'strip end': { join: ['gusset.top', ['zip front.right', 'zip back.left']], ...sewn },
      'strip start': { join: ['gusset.bottom', ['zip front.left', 'zip back.right']], ...sewn },
      'pocket seam': { join: ['front.around[above..strip - above]', 'pocket.around'], direction: 'along', ...sewn },
    },
    closures: { zip: { kind: 'coil zip', join: ['zip front.top', 'zip back.top'] } },
    stacks: {
      canvas: ['canvas12', { loose: 'poplin' }],
      'canvas back': ['canvas12', { fused: 'foam' }, { loose: 'poplin' }],
      'canvas boarded back': ['canvas12', { fused: 'foam' }, { loose: 'ldpe1' }, { loose: 'poplin' }],
      foamed: ['canvas12', { fused: 'foam' }, { loose: 'poplin' }],
      pocket: ['canvas12'],
    },
    options: {
      'canvas, foam in the back only': { 'every panel': 'canvas', back: 'canvas back', pocket: 'pocket' },
      'canvas, foam all round': { 'every panel': 'foamed', pocket: 'pocket' },
      'canvas, foam all round, sheet in the back': { 'every panel': 'foamed', back: 'canvas boarded back', pocket: 'pocket' },
    },
    stances: { standing: { friction: 0.4, closed: 'left out' }, 'zip closed': { friction: 0.4, closed: ['zip'] } },
  },
};
