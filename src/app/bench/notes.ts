import { h, svg } from '../page/dom.ts';
import { learnWords as words } from './learn-words.ts';

type Name = keyof typeof words.note;

/** A small sketch beside each note: strips over an edge, a disc's shadow, layers, and how they slide. */
const SKETCHES: Readonly<Record<Name, readonly string[]>> = {
  'Bending length': ['M2 18H30V58H2Z', 'M2 16H30C54 16 62 34 66 56', 'M30 17L66 56'],
  'Drape coefficient': [
    'M40 30m-12 0a12 12 0 1 0 24 0a12 12 0 1 0 -24 0',
    'M40 6C52 6 54 18 64 22C74 26 62 36 58 44C54 54 46 48 38 54C28 60 24 46 16 40C8 32 20 26 22 18C26 8 32 8 40 6Z',
  ],
  Stack: ['M6 20H74V28H6Z', 'M6 30H74V40H6Z', 'M6 42H74V47H6Z'],
  'Bonded and loose': ['M4 20C30 20 40 26 48 40M4 26C28 26 36 31 43 44M48 40L43 44', 'M40 8C62 8 70 16 76 30M38 14C58 14 66 20 70 34'],
};

const sketch = (name: Name): SVGElement =>
  svg(
    'svg',
    { viewBox: '0 0 80 62', width: 80, height: 62, 'aria-hidden': 'true', class: 'note-sketch' },
    ...SKETCHES[name].map((d) => svg('path', { d, fill: 'none', stroke: 'currentColor', 'stroke-width': 1.6 })),
  );

/** Short notes on the words a student meets here, each with a sketch. */
export const learnNotes = (): HTMLElement =>
  h(
    'details',
    { class: 'bench-notes' },
    h('summary', {}, words.notes),
    ...(Object.keys(words.note) as Name[]).map((name) =>
      h('div', { class: 'note' }, sketch(name) as unknown as HTMLElement, h('p', { class: 'small' }, h('strong', {}, name), ` ${words.note[name]}`)),
    ),
  );
