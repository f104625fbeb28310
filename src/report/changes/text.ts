import { formatMass, formatMm, trimmed } from '../../units/index.ts';
import { HANGING_CAUTIONS } from '../hung.ts';
import { stableJson } from '../json.ts';
import type { Fit } from '../types.ts';
import { CAUTIONS, length } from '../words.ts';
import type { ChangeReport, Effect } from './types.ts';

function signed(v: number, unit: string): string {
  const whole = Math.round(v);
  return `${whole > 0 ? '+' : whole < 0 ? '-' : '±'}${trimmed(Math.abs(whole), 0)} ${unit}`;
}

/** Difference of the rim's height (of a hung bag: of the sag of its base) to the bag as drawn, m, and what it is called; null where neither applies. */
export function moved(effect: Effect, asDrawn: Effect): { readonly by: number; readonly what: 'rim height' | 'base sag' } | null {
  if (effect.rimHeight !== null && asDrawn.rimHeight !== null) return { by: effect.rimHeight - asDrawn.rimHeight, what: 'rim height' };
  if (effect.baseSag !== null && asDrawn.baseSag !== null) return { by: effect.baseSag - asDrawn.baseSag, what: 'base sag' };
  return null;
}

/** "+31 mm rim height, +120 g" */
export function effectWords(effect: Effect, asDrawn: Effect): string {
  const shape = moved(effect, asDrawn);
  const grams = (effect.massKg - asDrawn.massKg) * 1000;
  return `${shape === null ? '' : `${signed(shape.by * 1000, 'mm')} ${shape.what}, `}${signed(grams, 'g')}`;
}

/** Standing cautions: those of straps first where the bag hangs. */
const changeCautions = (r: ChangeReport): readonly string[] => (r.hung ? [...HANGING_CAUTIONS, ...CAUTIONS] : CAUTIONS);

const MISSED: Readonly<Record<Exclude<Fit, 'meets'>, (wanted: string) => string>> = {
  'too soft': (w) => `too soft for "${w}"`,
  'too stiff': (w) => `too stiff for "${w}"`,
  'falls over': () => 'falls over',
  'goes when touched': () => 'goes when touched',
  'hangs askew': () => 'hangs askew',
};

/** The ranked changes for a terminal: one line each, then what the list rests on. */
export function changesText(r: ChangeReport): string {
  const { asDrawn } = r;
  const figure = asDrawn.rimHeight !== null ? `, rim ${length(asDrawn.rimHeight)}` : asDrawn.baseSag !== null ? `, base sags ${length(asDrawn.baseSag)}` : '';
  const wide = Math.max(...r.changes.map((c) => c.change.length));
  const effects = r.changes.map((c) => effectWords(c.effect, asDrawn));
  const broad = Math.max(...effects.map((e) => e.length));
  const word = Math.max(...r.changes.map((c) => c.effect.word.length));
  const fit = (e: Effect): string => (e.meetsWanted === null || e.fit === null ? '' : e.fit === 'meets' ? `meets "${r.wanted}"` : MISSED[e.fit](r.wanted));
  const lines = r.changes.map((c, i) =>
    `${String(i + 1).padStart(2)}. ${c.change.padEnd(wide)}  ${effects[i].padEnd(broad)}  ${c.effect.word.padEnd(word)}  ${fit(c.effect)}`.trimEnd(),
  );
  const open = [asDrawn, ...r.changes.map((c) => c.effect)].filter((e) => e.status !== 'settled').length;
  return `${[
    `${r.bag} · option ${r.option} · ${r.stance}`,
    `as drawn: ${[`${asDrawn.word}${figure}, ${formatMass(asDrawn.massKg)}`, fit(asDrawn)].filter((w) => w !== '').join(', ')}. ${asDrawn.reason}`,
    '',
    'one change at a time: what meets the wanted look first, the lighter before the heavier, then what is nearest to it:',
    ...lines,
    '',
    `${r.runs} runs, middle of the material band, mesh ${formatMm(r.edgeLength)}, no nudge: good for ranking only. Settle the one you choose, over the whole band.`,
    ...(r.changes.some((c) => c.effect.word === 'slumps') ? ['A bag that slumps never falls the same way twice: its height is one sample of many.'] : []),
    ...(open > 0 ? [`${open} of them did not come to rest and ${open === 1 ? 'has' : 'have'} no verdict to rank by.`] : []),
    ...changeCautions(r),
  ].join('\n')}\n`;
}

/** The same as JSON: metres, kilograms, and the cautions that go with it. */
export const changesJson = (r: ChangeReport): string => stableJson({ ...r, cautions: changeCautions(r) });
