import { boxedSeams, boxedHalf as half, boxedLines as lines } from './boxed.ts';
import type { TemplateSource } from './template.ts';

/** Boxed corners as in the boxed tote; the casing is the doubled top that the cord runs through; the first stance leaves it out. */
const casing = { above: 'H + D/2 - casing', stack: 'cotton casing' };
const sewn = { type: 'plain', allowance: 'SA' };

export const drawstringPouch: TemplateSource = {
  name: 'drawstring-pouch',
  title: 'Drawstring pouch',
  question: 'A small pouch that is meant to slump, left open, its cord left out. Question: how far does it go down?',
  bag: {
    wanted: 'slouchy',
    parameters: { W: '5 in', H: '6 1/2 in', D: '2 in', casing: '3/4 in', SA: '6 mm', crease: '0 mm' },
    panels: {
      front: { half, open: ['top'], marks: { 'front rim': 'top[50%]' }, regions: { casing }, lines },
      back: { copy: 'front', open: ['top'], marks: { 'back rim': 'top[50%]' }, regions: { casing }, lines },
    },
    seams: boxedSeams(sewn),
    closures: { cord: { kind: 'drawstring', along: ['front.top', 'back.top'], below: 'casing/2', 'drawn to': 'W + D' } },
    stacks: {
      cotton: ['quilting', { loose: 'lawn' }],
      'cotton casing': ['quilting', { loose: 'quilting' }],
      leather: ['lamb'],
      'leather casing': ['lamb', { loose: 'lamb' }],
    },
    options: {
      'quilting cotton, lawn lining': { 'every panel': 'cotton' },
      'garment lamb': { 'every panel': 'leather', 'front/casing': 'leather casing', 'back/casing': 'leather casing' },
    },
    stances: { standing: { friction: 0.4, closed: 'left out' }, 'drawn shut': { friction: 0.4, closed: ['cord'] } },
  },
};
