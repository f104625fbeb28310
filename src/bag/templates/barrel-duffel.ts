import type { TemplateSource } from './template.ts';

const end = { role: 'side', circle: { diameter: 'd' } };
/** Turned in once onto the tape of the zip, which the first stance leaves out. */
const zipped = { finish: 'turned once', width: 'SA' };
const sewn = { type: 'plain', allowance: 'SA' };

/** The tube lies along its length L; its two long edges are sewn for a stretch at each end and left open between, as a zip leaves them. */
export const barrelDuffel: TemplateSource = {
  name: 'barrel-duffel',
  title: 'Barrel duffel',
  question: 'A tube lying on its side between two round ends, its zip open. Question: do stiff ends hold a soft tube up?',
  bag: {
    wanted: 'soft',
    parameters: { d: '10 in', L: '20 in', shut: '2 1/2 in', girth: 'pi*d', SA: '10 mm' },
    panels: {
      body: {
        rectangle: { width: 'L', height: 'girth' },
        open: ['top', 'bottom'],
        finishes: { 'bottom[shut..L - shut]': zipped, 'top[shut..L - shut]': zipped },
        marks: { 'front rim': 'bottom[50%]', 'back rim': 'top[50%]' },
      },
      'left end': end,
      'right end': end,
    },
    seams: {
      'left end seam': { join: ['left end.rim', 'body.left'], ...sewn },
      'right end seam': { join: ['right end.rim', 'body.right'], ...sewn },
      'zip left': { join: ['body.bottom[0..shut]', 'body.top[L - shut..L]'], ...sewn },
      'zip right': { join: ['body.bottom[L - shut..L]', 'body.top[0..shut]'], ...sewn },
    },
    closures: { zip: { kind: 'coil zip', join: ['body.bottom[shut..L - shut]', 'body.top[shut..L - shut]'] } },
    stacks: {
      canvas: ['canvas12'],
      'canvas ends': ['canvas12', { bonded: 'pp1' }],
      'canvas foamed': ['canvas12', { fused: 'foam' }, { loose: 'poplin' }],
      leather: ['upholstery'],
      'leather ends': ['upholstery', { bonded: 'leatherboard' }],
    },
    options: {
      'canvas tube, stiff ends': { body: 'canvas', 'left end': 'canvas ends', 'right end': 'canvas ends' },
      'foamed tube, stiff ends': { body: 'canvas foamed', 'left end': 'canvas ends', 'right end': 'canvas ends' },
      'leather tube, boarded ends': { body: 'leather', 'left end': 'leather ends', 'right end': 'leather ends' },
    },
    stances: { standing: { friction: 0.4, closed: 'left out' }, 'zip closed': { friction: 0.4, closed: ['zip'] } },
  },
};
