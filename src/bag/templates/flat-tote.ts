import type { TemplateSource } from './template.ts';

const finishes = { top: { finish: 'turned twice', width: 'hem' } };

/** Two sheets sewn round three sides. The hem is stated, because the mouth is what gives way. */
export const flatTote: TemplateSource = {
  name: 'flat-tote',
  title: 'Flat tote',
  question: 'A tote of two sheets without a base, set down empty. Question: how much of its height is left, and does a stiffer cloth leave more?',
  bag: {
    wanted: 'slouchy',
    parameters: { W: '12 in', H: '14 in', hem: '1 in', SA: '10 mm', inset: '0.3*W', handle: '22 in' },
    panels: {
      front: {
        rectangle: { width: 'W', height: 'H' },
        open: ['top'],
        chains: { around: ['left', 'bottom', 'right'] },
        marks: { 'front rim': 'top[50%]' },
        finishes,
      },
      back: {
        copy: 'front',
        open: ['top'],
        marks: { 'back rim': 'top[50%]' },
        finishes,
      },
    },
    seams: { around: { join: ['front.around', 'back.around'], type: 'plain', allowance: 'SA' } },
    straps: {
      handle: { width: '1 in', length: 'handle', stack: 'webbing', from: { panel: 'front', 'from left': 'inset' }, to: 'mirrored', 'also on': ['back'] },
    },
    stacks: {
      cloth: ['canvas10'],
      lined: ['canvas10', { fused: 'fus_heavy' }, { loose: 'poplin' }],
      stiff: ['canvas24'],
      webbing: ['web_cotton'],
    },
    options: {
      'canvas alone': { 'every panel': 'cloth' },
      'canvas, heavy fusible, poplin': { 'every panel': 'lined' },
      'heavy canvas alone': { 'every panel': 'stiff' },
    },
    stances: { standing: { friction: 0.4 }, hung: { from: 'hook' } },
  },
};
