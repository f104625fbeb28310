/** Stances: what the bag stands on or hangs from, and what is in it. */
import { closedOf } from './closures.ts';
import { MOST_THINGS, resolveThing } from './contents.ts';
import { at, oneOf } from './faults.ts';
import { resolveGround } from './ground.ts';
import type { ParseContext } from './parse-context.ts';
import type { LoadForm, StanceForm } from './schema-stances.ts';
import type { HangsFrom, Load, Panel, Stance } from './types.ts';
import { LIMITS } from './words.ts';

/** Cloth or leather on a wooden table; values in print scatter from 0.25 to 0.6. Common practice, no source. */
export const DEFAULT_FRICTION = 0.4;

/** What a hung bag hangs from when the file gives no figures: m, rad. Common practice, no source. */
const USUAL: Readonly<Record<HangsFrom, { readonly diameter: number; readonly slope: number; readonly apart: number; readonly friction: number }>> = {
  // Leather on metal: tables disagree from 0.3 to 0.6 (check values fr_leather-metal, fr_leather-iron).
  hook: { diameter: 0.006, slope: 0, apart: 0, friction: 0.4 },
  bar: { diameter: 0.025, slope: 0, apart: 0, friction: 0.4 },
  shoulder: { diameter: 0.1, slope: (15 * Math.PI) / 180, apart: 0, friction: 0.6 },
  // A closed hand lets a strap slide neither along nor over it: the friction stands for that, not for skin on leather.
  hands: { diameter: 0.03, slope: 0, apart: 0.2, friction: 3 },
};
/** Depth and angle of repose of loose contents when the file gives none. Common practice, no source. */
export const USUAL_FILL = 0.5;
export const USUAL_REPOSE = Math.PI / 6;

const FIELDS = {
  standing: new Set(['kind', 'friction', 'load', 'contents', 'closed', 'on', 'tilt', 'toward', 'base', 'forms']),
  held: new Set(['kind', 'closed']),
  hung: new Set(['kind', 'friction', 'load', 'contents', 'closed', 'from', 'diameter', 'slope', 'apart', 'straps']),
} as const;

function load(ctx: ParseContext, path: string, form: LoadForm | string | number): Load | null {
  const whole: LoadForm = typeof form === 'object' ? form : { mass: form };
  const mass = ctx.quantity(typeof form === 'object' ? at(path, 'mass') : path, whole.mass, 'mass', { min: 0, above: true, max: LIMITS.mass });
  const fill = whole.fill ?? USUAL_FILL;
  if (!(fill >= 0.05 && fill <= 1)) ctx.faults.add(at(path, 'fill'), fill, 'a number from 0.05 to 1');
  const repose = whole.repose === undefined ? USUAL_REPOSE : ctx.size(at(path, 'repose'), whole.repose, 'angle', { min: 0, max: Math.PI / 2 });
  return mass === null || repose === null ? null : { mass, fill, repose };
}

/** A hung stance with the usual figures of what it hangs from, empty, all of these straps carrying. */
export const usualHung = (name: string, from: HangsFrom, straps: readonly string[]): Stance => ({
  name,
  kind: 'hung',
  from,
  ...USUAL[from],
  straps,
  load: null,
});

/**
 * A stance, or null after its faults. A stance named after a kind needs no kind.
 * Parameters: straps, the names of the bag's straps (a pair's copies included); closures, those of its closures.
 */
export function resolveStance(ctx: ParseContext, name: string, form: StanceForm, straps: readonly string[], closures: readonly string[]): Stance | null {
  const path = at('stances', name);
  const { faults } = ctx;
  const before = faults.faults.length;
  const kind = form.kind ?? (name === 'held' || name === 'hung' ? name : 'standing');
  for (const [field, value] of Object.entries(form))
    if (value !== undefined && !FIELDS[kind].has(field))
      faults.add(at(path, field), value, `nothing: a bag that is ${kind} takes ${[...FIELDS[kind]].join(', ')}`);
  const closed = form.closed === undefined ? null : closedOf(ctx, path, form.closed, closures);
  if (kind === 'held') return faults.faults.length > before ? null : { name, kind, ...(closed ? { closed } : {}) };
  const from = form.from ?? 'hook';
  const usual = USUAL[from];
  const friction = form.friction ?? (kind === 'hung' ? usual.friction : DEFAULT_FRICTION);
  if (!(friction >= 0 && friction <= LIMITS.friction)) faults.add(at(path, 'friction'), friction, `a number from 0 to ${LIMITS.friction}`);
  const contents = form.load === undefined ? null : load(ctx, at(path, 'load'), form.load);
  const things = (form.contents ?? []).flatMap((f, i) => resolveThing(ctx, at(at(path, 'contents'), i), f) ?? []);
  if (things.length > MOST_THINGS) faults.add(at(path, 'contents'), `${things.length} things`, `at most ${MOST_THINGS}`);
  const inside = { ...(things.length > 0 ? { contents: things } : {}), ...(closed ? { closed } : {}) };
  if (kind === 'standing') {
    const ground = resolveGround(ctx, path, form, friction);
    return faults.faults.length > before ? null : { name, kind, friction, load: contents, ...inside, ...(ground === null ? {} : { ground }) };
  }
  const diameter = form.diameter === undefined ? usual.diameter : ctx.size(at(path, 'diameter'), form.diameter, 'length', { min: 0.002, max: 0.3 });
  if (form.slope !== undefined && from !== 'shoulder') faults.add(at(path, 'slope'), form.slope, 'a slope only on a shoulder');
  const slope = form.slope === undefined ? usual.slope : ctx.size(at(path, 'slope'), form.slope, 'angle', { min: 0, max: Math.PI / 4 });
  if (form.apart !== undefined && from !== 'hands') faults.add(at(path, 'apart'), form.apart, 'a distance only between hands');
  const apart = form.apart === undefined ? usual.apart : ctx.size(at(path, 'apart'), form.apart, 'length', { min: 0, max: 1 });
  const carrying = form.straps ?? straps;
  if (straps.length === 0) faults.addText(path, 'a hung bag without straps', 'at least one entry in "straps"');
  else if (carrying.length === 0) faults.addText(at(path, 'straps'), 'no strap', 'at least one strap that carries');
  carrying.forEach((s, i) => {
    if (!straps.includes(s)) faults.add(at(at(path, 'straps'), i), s, oneOf('a strap of this bag', s, straps));
    else if (carrying.indexOf(s) !== i) faults.add(at(at(path, 'straps'), i), s, 'each strap once');
  });
  if (from === 'hands' && straps.length > 0 && carrying.length === 1)
    faults.addText(at(path, 'from'), 'two hands and one strap', 'at least two straps that carry, one for each hand');
  if (diameter === null || slope === null || apart === null || faults.faults.length > before) return null;
  return { name, kind, from, diameter, slope, apart, friction, straps: carrying, load: contents, ...inside };
}

/** Stances of a file that states none: held where every panel is clipped, otherwise standing on a table, and hung from a hook where there are straps. */
export function defaultStances(panels: readonly Panel[], straps: readonly string[]): Stance[] {
  if (panels.length > 0 && panels.every((p) => p.clips.length > 0)) return [{ name: 'held', kind: 'held' }];
  const standing: Stance = { name: 'standing', kind: 'standing', friction: DEFAULT_FRICTION, load: null };
  if (straps.length === 0) return [standing];
  return [standing, usualHung('hung', 'hook', straps)];
}
