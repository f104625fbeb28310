/** Rigid things in a bag: six everyday ones of a usual size, and plain shapes of any size. */
import { at } from './faults.ts';
import type { ParseContext } from './parse-context.ts';
import type { ThingForm } from './schema-stances.ts';
import type { Thing } from './types.ts';
import { LIMITS, withArticle } from './words.ts';

type Kind = ThingForm['thing'];
/** Those of a usual size and mass: only their name need be said. */
export type EverydayThing = Exclude<Kind, 'block' | 'roll'>;
type Key = 'width' | 'depth' | 'height' | 'diameter' | 'length';

/** More than these are loose contents (`load`), not things to be told apart. */
export const MOST_THINGS = 12;

/** Sizes of everyday things, m, and their masses, kg: common sizes, no source; masses from typical contents of bags (check values, estimate_contents). */
const USUAL: Readonly<Record<Kind, { readonly must: readonly Key[]; readonly size: Readonly<Partial<Record<Key, number>>>; readonly mass: number | null }>> = {
  bottle: { must: ['diameter', 'length'], size: { diameter: 0.065, length: 0.2 }, mass: 0.53 },
  tin: { must: ['diameter', 'length'], size: { diameter: 0.075, length: 0.11 }, mass: 0.46 },
  umbrella: { must: ['diameter', 'length'], size: { diameter: 0.05, length: 0.28 }, mass: 0.35 },
  book: { must: ['width', 'depth', 'height'], size: { width: 0.15, depth: 0.03, height: 0.22 }, mass: 0.6 },
  tablet: { must: ['width', 'depth', 'height'], size: { width: 0.175, depth: 0.008, height: 0.25 }, mass: 0.5 },
  ball: { must: ['diameter'], size: { diameter: 0.09 }, mass: 0.15 },
  block: { must: ['width', 'depth', 'height'], size: {}, mass: null },
  roll: { must: ['diameter', 'length'], size: {}, mass: null },
};
/** Cloth against plastic, card and tin; values in print scatter from 0.2 to 0.5. Common practice, no source. */
const USUAL_FRICTION = 0.35;
/** Radius of edges, m, and its largest share of the smallest size: sharper, and the cloth would cut across them between two mesh points. */
const ROUND = 0.003;
const SIZE = { min: 0.005, max: LIMITS.length } as const;

/** One entry of a stance's contents, or null after its faults. */
export function resolveThing(ctx: ParseContext, path: string, form: ThingForm): Thing | null {
  const { faults } = ctx;
  const before = faults.faults.length;
  const usual = USUAL[form.thing];
  const sizes: Partial<Record<Key, number>> = {};
  for (const key of ['width', 'depth', 'height', 'diameter', 'length'] as const) {
    const written = form[key];
    if (!usual.must.includes(key)) {
      if (written !== undefined) faults.add(at(path, key), written, `nothing: ${withArticle(form.thing)} takes ${usual.must.join(', ')}`);
      continue;
    }
    if (written !== undefined) sizes[key] = ctx.size(at(path, key), written, 'length', SIZE) ?? 0;
    else if (usual.size[key] !== undefined) sizes[key] = usual.size[key];
    else faults.addText(at(path, key), 'nothing', `a length: ${withArticle(form.thing)} takes ${usual.must.join(', ')}`);
  }
  const mass = form.mass === undefined ? usual.mass : ctx.quantity(at(path, 'mass'), form.mass, 'mass', { min: 0.005, max: LIMITS.mass });
  if (mass === null && form.mass === undefined)
    faults.addText(at(path, 'mass'), 'nothing', `a mass such as "400 g": ${withArticle(form.thing)} may weigh anything`);
  const turn = form.turn === undefined ? 0 : (ctx.size(at(path, 'turn'), form.turn, 'angle', { min: -Math.PI, max: Math.PI }) ?? 0);
  const place = form.at?.map((v, i) => ctx.size(at(at(path, 'at'), i), v, 'length', { min: -LIMITS.length, max: LIMITS.length }) ?? 0);
  const friction = form.friction ?? USUAL_FRICTION;
  if (!(friction >= 0 && friction <= LIMITS.friction)) faults.add(at(path, 'friction'), friction, `a number from 0 to ${LIMITS.friction}`);
  if (faults.faults.length > before || mass === null) return null;
  return {
    thing: form.thing,
    mass,
    body: bodyOf(usual.must, sizes),
    along: form.along ?? 'z',
    turn,
    at: place === undefined ? null : [place[0]!, place[1]!],
    friction,
  };
}

function bodyOf(must: readonly Key[], sizes: Readonly<Partial<Record<Key, number>>>): Thing['body'] {
  const s = (key: Key): number => sizes[key]!;
  const round = Math.min(ROUND, Math.min(...must.map(s)) / 4);
  if (must.length === 3) return { form: 'block', size: [s('width'), s('depth'), s('height')], round };
  return must.length === 2 ? { form: 'roll', diameter: s('diameter'), length: s('length'), round } : { form: 'ball', diameter: s('diameter') };
}

/** An everyday thing of its usual size and mass, upright and side by side with the others: what an entry of contents that says no more than its name comes to. Sizes: common, no source. */
export function usualThing(thing: EverydayThing): Thing {
  const { must, size, mass } = USUAL[thing];
  return { thing, mass: mass!, body: bodyOf(must, size), along: 'z', turn: 0, at: null, friction: USUAL_FRICTION };
}
