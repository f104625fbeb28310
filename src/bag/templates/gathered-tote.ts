import type { TemplateSource } from './template.ts';

const sewn = { type: 'plain', allowance: 'SA' };

/** Base and band have the girth of the finished bag; the skirt between them is `ratio` times as long and gathered onto both. */
export const gatheredTote: TemplateSource = {
  name: 'gathered-tote',
  title: 'Gathered-skirt tote',
  question: 'A gathered skirt between a plain band and the base. Question: do the gathers carry the band, or does their weight pull it down?',
  bag: {
    wanted: 'soft',
    parameters: {
      W: '15 in',
      H: '14 in',
      D: '4 in',
      R: '1 1/2 in',
      band: '3 in',
      ratio: 1.5,
      girth: '2*W + 2*D - (8 - 2*pi)*R',
      SA: '10 mm',
    },
    panels: {
      band: {
        role: 'body',
        rectangle: { width: 'girth', height: 'band' },
        open: ['top'],
        finishes: { top: { finish: 'turned once', width: 'SA' } },
        marks: { 'seam rim': 'top[0%]', 'far rim': 'top[50%]' },
      },
      skirt: { role: 'body', rectangle: { width: 'ratio*girth', height: 'H - band' } },
      base: {
        rectangle: { width: 'W', height: 'D', radius: 'R' },
        chains: { around: ['bottom', 'bottom-right', 'right', 'right-top', 'top', 'top-left', 'left', 'left-bottom'] },
      },
    },
    seams: {
      'band seam': { join: ['band.left', 'band.right'], ...sewn },
      'skirt seam': { join: ['skirt.left', 'skirt.right'], ...sewn },
      'band to skirt': { join: ['band.bottom', 'skirt.top'], gather: 'ratio', ...sewn },
      'skirt to base': { join: ['base.around', 'skirt.bottom'], gather: 'ratio', ...sewn },
    },
    stacks: {
      limp: ['lawn'],
      'limp band': ['lawn', { fused: 'fus_heavy' }, { loose: 'lawn' }],
      crisp: ['canvas8'],
      'crisp band': ['canvas8', { fused: 'fus_heavy' }, { loose: 'canvas8' }],
      'base board': ['canvas8', { loose: 'pp1' }],
    },
    options: {
      'lawn skirt': { band: 'limp band', skirt: 'limp', base: 'base board' },
      'canvas skirt': { band: 'crisp band', skirt: 'crisp', base: 'base board' },
    },
    stances: { standing: { friction: 0.4 } },
  },
};
