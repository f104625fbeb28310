import type { TemplateSource } from './template.ts';

/**
 * The back seam is lapped: a plain one is a free hinge, and the flat cloth pulls the tube into a drop with its point at the seam. One strap across the mouth,
 * its ends a quarter of the girth from that seam.
 */
export const bucket: TemplateSource = {
  name: 'bucket',
  title: 'Bucket',
  question: 'A tube on a round base, one strap across its mouth. Question: does the rim stay round, or does it go oval and lean?',
  bag: {
    wanted: 'structured',
    parameters: { d: '7 in', H: '10 in', girth: 'pi*d', strap: '24 in', SA: '8 mm' },
    panels: {
      body: {
        rectangle: { width: 'girth', height: 'H' },
        open: ['top'],
        finishes: { top: { finish: 'turned once', width: '25 mm' } },
        marks: { 'seam rim': 'top[0%]', 'far rim': 'top[50%]' },
      },
      base: { circle: { diameter: 'd' } },
    },
    seams: {
      'back seam': { join: ['body.left', 'body.right'], type: 'lapped', allowance: 'SA' },
      'base seam': { join: ['base.rim', 'body.bottom'], type: 'plain', allowance: 'SA' },
    },
    straps: { carry: { width: '1 in', length: 'strap', stack: 'webbing', from: { panel: 'body', 'from left': 'girth/4' }, to: 'mirrored' } },
    stacks: {
      'canvas lined': ['canvas12', { loose: 'poplin' }],
      leather: ['chrome20'],
      'leather base': ['chrome20', { bonded: 'leatherboard' }],
      'canvas foamed': ['canvas12', { fused: 'foam' }, { loose: 'poplin' }],
      'canvas base': ['canvas12', { loose: 'pp1' }, { loose: 'poplin' }],
      webbing: ['web_cotton'],
    },
    options: {
      'canvas, poplin lining': { body: 'canvas lined', base: 'canvas base' },
      'chrome-tanned leather': { body: 'leather', base: 'leather base' },
      'canvas, foam, poplin': { body: 'canvas foamed', base: 'canvas base' },
    },
    stances: { standing: { friction: 0.4 }, hung: { from: 'hook' } },
  },
};
