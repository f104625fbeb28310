import type { TemplateSource } from './template.ts';

/** Right half of a crescent: bottom and side one smooth curve up to a peak that the strap's end is sewn to, the mouth scooped between the peaks. */
const half = [
  {
    at: [0, 0],
    edge: 'low',
    curve: [
      ['0.32*W', 0],
      ['W/2', '0.16*H'],
    ],
  },
  {
    at: ['W/2', '0.45*H'],
    edge: 'side',
    curve: [
      ['W/2', '0.68*H'],
      ['W/2 - peak/4', '0.85*H'],
    ],
  },
  { at: ['W/2 - peak/2', 'H'], edge: 'peak' },
  {
    at: ['W/2 - 1.5*peak', 'H'],
    edge: 'mouth',
    curve: [
      ['W/2 - 2*peak', 'H - dip'],
      ['0.2*W', 'H - dip'],
    ],
  },
  { at: [0, 'H - dip'] },
];

const finishes = { mouth: { finish: 'bound', width: '8 mm' } };

export const crescent: TemplateSource = {
  name: 'crescent',
  title: 'Crescent slouch bag',
  question:
    'Two crescents sewn edge to edge, peaks included, a strap from peak to peak. Question: is it as slouchy as wanted, and which cloth is too stiff for that?',
  bag: {
    wanted: 'slouchy',
    parameters: { W: '15 in', H: '13 1/2 in', dip: '0.4*H', peak: '1 1/2 in', strap: '18 in', SA: '8 mm' },
    panels: {
      front: {
        half,
        open: ['mouth'],
        finishes,
        chains: { around: ['peak left', 'side left', 'low left', 'low right', 'side right', 'peak right'] },
        marks: { 'front rim': 'mouth right[100%]' },
      },
      back: { copy: 'front', open: ['mouth'], finishes, marks: { 'back rim': 'mouth right[100%]' } },
    },
    seams: { around: { join: ['front.around', 'back.around'], type: 'plain', allowance: 'SA' } },
    straps: { shoulder: { width: '3/4 in', length: 'strap', stack: 'webbing', from: { panel: 'front', 'from left': '0.7*peak' }, to: 'mirrored' } },
    stacks: {
      webbing: ['web_cotton'],
      'canvas lined': ['canvas8', { loose: 'poplin' }],
      leather: ['upholstery'],
      'foamed canvas': ['canvas8', { fused: 'foam' }, { loose: 'poplin' }],
    },
    options: {
      'canvas, poplin lining': { 'every panel': 'canvas lined' },
      'upholstery leather': { 'every panel': 'leather' },
      'canvas, foam, poplin': { 'every panel': 'foamed canvas' },
    },
    stances: { standing: { friction: 0.4 }, hung: { from: 'hook' } },
  },
};
