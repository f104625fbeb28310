/** Edits of the stances of a written bag: what it stands on or hangs from, what is put in, handles where there are none. New forms; nothing is mutated. */
import type { Bag } from '../core.ts';
import type { BagForm, StanceForm, StrapForm } from '../page/bag-form.ts';

/** Stances as the file says them; a file that states none is given those that it has had without stating them. */
const stancesOf = (form: BagForm, bag: Bag): Readonly<Record<string, StanceForm>> =>
  form.stances ?? Object.fromEntries(bag.stances.map((s) => [s.name, { kind: s.kind }]));

/** One stance changed; a key given as undefined is taken away. */
export function withStance(form: BagForm, bag: Bag, stance: string, change: Readonly<Record<string, unknown>>): BagForm {
  const stances = stancesOf(form, bag);
  const next = Object.fromEntries(Object.entries({ ...stances[stance], ...change }).filter(([, value]) => value !== undefined));
  return { ...form, stances: { ...stances, [stance]: next } };
}

/** Keys that a standing and a hung stance have each for itself. */
const STANDING = ['on', 'tilt', 'toward', 'base', 'forms'];
const HUNG = ['from', 'diameter', 'slope', 'apart', 'straps'];

/** The stance stood up or hung: what it holds stays, what it stood on or hung from goes, and friction, which means another thing then. */
export function withKind(form: BagForm, bag: Bag, stance: string, kind: 'standing' | 'hung'): BagForm {
  const gone = Object.fromEntries([...(kind === 'hung' ? STANDING : HUNG), 'friction'].map((key) => [key, undefined]));
  return withStance(form, bag, stance, { ...gone, kind, ...(kind === 'hung' ? { from: 'hook' } : {}) });
}

/** A closure closed in a stance, after those that are closed there, or opened again. */
export function withClosed(form: BagForm, bag: Bag, stance: string, closure: string, on: boolean): BagForm {
  const before = stancesOf(form, bag)[stance]?.closed;
  const others = Array.isArray(before) ? before.filter((c) => c !== closure) : [];
  const closed = on ? [...others, closure] : others;
  return withStance(form, bag, stance, { closed: closed.length > 0 ? closed : undefined });
}

/** A further stance like another one, under a name that is free. */
export function withNewStance(form: BagForm, bag: Bag, like: string): { readonly form: BagForm; readonly stance: string } {
  const stances = stancesOf(form, bag);
  let n = 2;
  while (Object.hasOwn(stances, `${like} ${n}`)) n++;
  const stance = `${like} ${n}`;
  return { stance, form: { ...form, stances: { ...stances, [stance]: { ...stances[like], kind: bag.stances.find((s) => s.name === like)?.kind } } } };
}

export const withoutStance = (form: BagForm, bag: Bag, stance: string): BagForm => ({
  ...form,
  stances: Object.fromEntries(Object.entries(stancesOf(form, bag)).filter(([name]) => name !== stance)),
});

/** Names of the rigid things in a stance, in the file's order. */
export const thingsOf = (form: BagForm, stance: string): readonly string[] =>
  ((form.stances?.[stance]?.contents ?? []) as readonly { readonly thing: string }[]).map((t) => t.thing);

/** One more thing of its usual size, upright. */
export const withThing = (form: BagForm, bag: Bag, stance: string, thing: string): BagForm =>
  withStance(form, bag, stance, { contents: [...((stancesOf(form, bag)[stance]?.contents ?? []) as readonly unknown[]), { thing }] });

/** One such thing less, the last one put in; none left: no list. */
export function withoutThing(form: BagForm, bag: Bag, stance: string, thing: string): BagForm {
  const all = [...((stancesOf(form, bag)[stance]?.contents ?? []) as readonly { readonly thing: string }[])];
  const last = all.map((t) => t.thing).lastIndexOf(thing);
  if (last >= 0) all.splice(last, 1);
  return withStance(form, bag, stance, { contents: all.length > 0 ? all : undefined });
}

/** Handles by common practice (no source): ends at 30 % of the width from each side, a hand's drop of 130 mm, webbing of 25 mm. */
const HANDLE = { inset: 0.3, drop: 0.13, patch: 0.025, width: '25 mm', stack: 'handles', material: 'web_cotton' } as const;

/**
 * A handle on the front and one on the back; null where no panel is named so by its role or none has an open edge to sew to. The bag gets a stance in which it
 * hangs by them, if it had none. Returns the new form and that stance.
 */
export function withHandles(form: BagForm, bag: Bag): { readonly form: BagForm; readonly stance: string } | null {
  const [front, back] = (['front', 'back'] as const).map((role) => bag.panels.find((p) => p.role === role && p.openings.length > 0));
  if (!front || !back || bag.straps.length > 0) return null;
  const x = front.outline.flatMap((e) => [e.from[0], e.to[0]]);
  const wide = Math.max(...x) - Math.min(...x);
  const mm = (metres: number): string => `${Math.round(metres * 1000)} mm`;
  const span = (1 - 2 * HANDLE.inset) * wide;
  const stack = Object.hasOwn(form.stacks, HANDLE.stack) ? `${HANDLE.stack} 2` : HANDLE.stack;
  const strap: StrapForm = {
    width: HANDLE.width,
    length: mm(0.01 * Math.round(100 * 2 * Math.hypot(HANDLE.drop + HANDLE.patch, span / 2))),
    stack,
    from: { panel: front.name, 'from left': mm(HANDLE.inset * wide) },
    to: 'mirrored',
    'also on': [back.name],
  };
  const hung = bag.stances.find((s) => s.kind === 'hung')?.name ?? 'hung';
  const stances = stancesOf(form, bag);
  // What is in the bag is in it when it hangs as well.
  const held = bag.stances.find((s) => s.kind === 'standing' && (s.load || (s.contents?.length ?? 0) > 0))?.name ?? '';
  const { load, contents } = stances[held] ?? {};
  return {
    stance: hung,
    form: {
      ...form,
      stacks: { ...form.stacks, [stack]: [HANDLE.material] },
      straps: { handle: strap },
      stances: {
        ...stances,
        [hung]: stances[hung] ?? { kind: 'hung', from: 'hook', ...(load === undefined ? {} : { load }), ...(contents === undefined ? {} : { contents }) },
      },
    },
  };
}
