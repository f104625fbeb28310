import { type Bag, endThatFollows, judge, type Result, withFollowing } from '../core.ts';
import { optionTitles } from '../page/materials.ts';
import type { Column, Fineness, State } from '../page/store.ts';
import { text } from '../page/text.ts';
import { leadOf, lightestThatMeets } from './figures.ts';

/**
 * Everything that a settled state depends on, as text: equal keys mean that the result still holds. Stacks stand in it as what they are made of, so that
 * options that are renamed, copied or made alike share their results. What is wanted is not among it: that only asks the stored measures another question.
 */
export function inputKey(bag: Bag, option: string, stance: string, fineness: Fineness): string {
  return JSON.stringify([...clothKey(bag, option), bag.stances.find((s) => s.name === stance), fineness]);
}

/** The same without stance and mesh: what its weight depends on. */
export const weightKey = (bag: Bag, option: string): string => JSON.stringify(clothKey(bag, option));

function clothKey(bag: Bag, option: string): unknown[] {
  // Everything that shapes the bag; what is left out here is named below or has no part in it.
  const { name: _, note: __, wanted: ___, parameters: ____, options, stacks, materials, stances: _____, straps, ...shape } = bag;
  const choice = options.find((o) => o.name === option);
  const made = (stack: string): unknown => {
    const found = stacks.find((s) => s.name === stack);
    return found && { ...found, name: '' };
  };
  const laid = (of: Readonly<Record<string, string>> | undefined): unknown => Object.entries(of ?? {}).map(([part, stack]) => [part, made(stack)]);
  const cloth = [laid(choice?.stacks), laid(choice?.regions), straps.map((s) => ({ ...s, stack: made(s.stack) }))];
  const layers = JSON.stringify(cloth);
  return [shape, cloth, materials.filter((m) => layers.includes(JSON.stringify(m.id)))];
}

const letterOf = (i: number): string => String.fromCharCode(65 + i);

/** Most options on the mat; a bag may have more. */
export const MOST_ON_MAT = 4;

/** Columns of the options on the mat. off: names of those that are kept and not shown. */
export function columnsFor(bag: Bag, old: readonly Column[], off: readonly string[] = []): Column[] {
  const on = bag.options.filter((o) => !off.includes(o.name));
  const shown = (on.length > 0 ? on : bag.options).slice(0, MOST_ON_MAT);
  const titles = optionTitles(
    bag,
    shown.map((o) => o.name),
  );
  return shown.map((o, i) => {
    const same = old.find((c) => c.option === o.name);
    const fresh: Column = {
      letter: letterOf(i),
      option: o.name,
      title: '',
      stage: null,
      waiting: false,
      result: null,
      stale: false,
      early: null,
      partial: false,
      coarse: false,
      problem: null,
    };
    return { ...(same ?? fresh), letter: letterOf(i), title: titles[i] };
  });
}

/** The same measures judged by what is wanted now; the solver has no part in it. */
export const judged = (result: Result, wanted: Bag['wanted']): Result =>
  result.verdict.wanted === wanted ? result : { ...result, verdict: judge(result.runs, wanted, result.pattern) };

/** The ends of the band that are asked for beside its middle: not one whose word follows from it. */
export function endsToAsk(mid: Result): Result['runs'][number]['band'][] {
  const follows = mid.runs.map(endThatFollows);
  return (['low', 'high'] as const).filter((band) => !follows.includes(band));
}

/** A result of the whole band from one of its middle and one of its ends. */
export function whole(mid: Result, ends: Result): Result {
  const asked = [...mid.runs.map((r) => (ends.runs.some((e) => e.band === endThatFollows(r)) ? r : withFollowing(r))), ...ends.runs];
  const runs = (['low', 'mid', 'high'] as const).flatMap((band) => asked.find((r) => r.band === band) ?? []);
  return { ...mid, runs, verdict: judge(runs, mid.verdict.wanted, mid.pattern) };
}

/** Steps that an option is taken to need whose settle is not known. */
const UNKNOWN_STEPS = 100;

/**
 * Columns in the order in which their typical bolts are settled: what took few steps the last time answers in a second, and need not wait behind a heap. Longest first throughout
 * would end five line-ups 0 to 6 % sooner and tell their typical words 0 to 59 % later on average (npm run bench:order -- 30): the words are what one waits for. Soft and stiff
 * bolts, which follow, go longest first (solver-pool.ts).
 */
export function firmFirst(columns: readonly Column[]): number[] {
  const steps = columns.map(({ result }) => (result && leadOf(result))?.iterations ?? UNKNOWN_STEPS);
  return columns.map((_, i) => i).sort((a, b) => steps[a] - steps[b] || a - b);
}

/** Which column to mark, and the words for it. Results that are out of date do not take part. */
export function choose(state: State): { readonly index: number | null; readonly reason: string } {
  const index = lightestThatMeets(state.columns.map((c) => (c.stale || c.partial ? null : c.result)));
  return { index, reason: text.table.chosen(text.controls.wants[state.bag.wanted]) };
}
