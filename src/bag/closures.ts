/** Written closures to places, edges and channels. What is closed is said by a stance. */

import { polygonOf } from './curve.ts';
import { at, oneOf } from './faults.ts';
import { outside, placeOn } from './panels.ts';
import type { ParseContext } from './parse-context.ts';
import { runsOverlap } from './runs-overlap.ts';
import type { ClosureForm } from './schema-closures.ts';
import type { Closure, ClosurePlace, CordClosure, EdgeRun, PointClosure, ZipClosure } from './types.ts';
import { isZip } from './types-closures.ts';
import { LEFT_OUT, LIMITS } from './words.ts';

type PointKind = PointClosure['kind'];

/** Parts held to one another, by kind: size across, distance of the two panels when closed, m; both parts, kg. Estimates: no table of them was found. */
const PARTS: Readonly<Record<PointKind, { readonly size: number; readonly gap: number; readonly mass: number }>> = {
  magnet: { size: 0.018, gap: 0.004, mass: 0.012 },
  snap: { size: 0.015, gap: 0.004, mass: 0.005 },
  buckle: { size: 0.025, gap: 0.006, mass: 0.03 },
  'turn lock': { size: 0.03, gap: 0.005, mass: 0.025 },
  // Two tapes of 10 mm, 300 mm long each; the knot takes up what lies between the panels.
  tie: { size: 0.01, gap: 0.01, mass: 0.004 },
};
/** Zips by kind: width of the closed chain, m; chain and both tapes at that width, kg/m, growing with its square; slider and stops, kg. Estimates, as of material/data/member-kinds.ts. */
const ZIPS: Readonly<Record<ZipClosure['kind'], { readonly size: number; readonly lineMass: number; readonly slider: number }>> = {
  'coil zip': { size: 0.005, lineMass: 0.018, slider: 0.003 },
  'metal zip': { size: 0.005, lineMass: 0.04, slider: 0.005 },
};
/** kg/m: a cord of 4 mm, a strap of 20 mm. Estimates. */
const CORDS: Readonly<Record<CordClosure['kind'], number>> = { drawstring: 0.008, 'cinch strap': 0.02 };
/** Of a cord against its channel, cloth on all sides of it: between cotton on cotton and smooth cord. An estimate. */
const CORD_FRICTION = 0.3;
/** Two edges of a zip may differ by this share of their length: what a maker eases in. Common practice, no source. */
const UNEVEN = 0.03;
/** Cloth crowds in a channel: it is drawn to no less than this share of what was cut. Common practice, no source. */
const CROWDED = 0.1;

/** Keys that only some kinds take. */
const KEYS: readonly { readonly of: 'point' | 'zip' | 'cord'; readonly needs: readonly (keyof ClosureForm)[]; readonly may: readonly (keyof ClosureForm)[] }[] =
  [
    { of: 'point', needs: ['from', 'to'], may: ['gap', 'pull-off', 'size', 'mass'] },
    { of: 'zip', needs: ['join'], may: ['direction', 'slider', 'closes from', 'size', 'mass'] },
    { of: 'cord', needs: ['along', 'drawn to'], may: ['below', 'friction', 'mass'] },
  ];
const ANY: readonly string[] = ['note', 'kind'];

const familyOf = (kind: ClosureForm['kind']): 'point' | 'zip' | 'cord' => (kind in PARTS ? 'point' : kind in ZIPS ? 'zip' : 'cord');

const mm = (m: number): string => `${Number((m * 1000).toFixed(1))} mm`;
/** Edges that a closure takes up. */
const runsOf = (c: Closure): readonly EdgeRun[] => (isZip(c) ? c.sides.flat() : []);

/**
 * A closure, or null after its faults: keys of another kind, places off their panels, edges that are not there or sewn, two closures on one edge, two edges of a zip that
 * differ in length, a cord drawn longer than its channel or shorter than cloth allows. Parameters: name; form; those before it; is a stretch sewn.
 */
export function resolveClosure(
  ctx: ParseContext,
  name: string,
  form: ClosureForm,
  before: readonly Closure[],
  sewn: (run: EdgeRun) => boolean,
): Closure | null {
  const path = at('closures', name);
  const { faults } = ctx;
  const count = faults.faults.length;
  const family = familyOf(form.kind),
    keys = KEYS.find((k) => k.of === family)!;
  for (const [key, value] of Object.entries(form))
    if (value !== undefined && !ANY.includes(key) && !(keys.needs as readonly string[]).includes(key) && !(keys.may as readonly string[]).includes(key))
      faults.add(at(path, key), value, `nothing: a ${form.kind} takes ${[...keys.needs, ...keys.may].join(', ')}`);
  for (const key of keys.needs) if (form[key] === undefined) faults.addText(at(path, key), 'nothing', `"${key}": a ${form.kind} has one`);
  const made = family === 'point' ? pointClosure(ctx, path, name, form) : family === 'zip' ? zip(ctx, path, name, form, sewn) : cord(ctx, path, name, form);
  if (made) {
    const other = before.find((c) => runsOf(c).some((a) => runsOf(made).some((b) => runsOverlap(a, b))));
    if (other) faults.addText(at(path, 'join'), `an edge that closure "${other.name}" closes`, 'one closure on each edge');
  }
  return faults.faults.length > count ? null : made;
}

function onPanel(ctx: ParseContext, path: string, form: NonNullable<ClosureForm['from']>): ClosurePlace | null {
  const drawn = ctx.attempt(at(path, 'panel'), form.panel, () => ctx.drawn(form.panel));
  if (!drawn) return null;
  const spot = placeOn(ctx, at(path, 'at'), form.panel, form.at, drawn);
  if (spot && outside(spot, polygonOf(drawn.outline))) ctx.faults.add(at(path, 'at'), form.at, `a place on panel ${form.panel}`);
  return spot && { panel: form.panel, at: spot };
}

function pointClosure(ctx: ParseContext, path: string, name: string, form: ClosureForm): PointClosure | null {
  const kind = form.kind as PointKind,
    usual = PARTS[kind];
  const from = form.from === undefined ? null : onPanel(ctx, at(path, 'from'), form.from),
    to = form.to === undefined ? null : onPanel(ctx, at(path, 'to'), form.to);
  const size = form.size === undefined ? usual.size : ctx.size(at(path, 'size'), form.size, 'length', { min: 0.003, max: 0.1 }),
    gap = form.gap === undefined ? usual.gap : ctx.size(at(path, 'gap'), form.gap, 'length', { min: 0, above: true, max: 0.05 }),
    mass = form.mass === undefined ? usual.mass : ctx.quantity(at(path, 'mass'), form.mass, 'mass', { min: 0, max: 2 }),
    pullOff = form['pull-off'] === undefined ? null : ctx.quantity(at(path, 'pull-off'), form['pull-off'], 'force', { min: 0, above: true, max: 1e4 });
  if (!from || !to || size === null || gap === null || mass === null) return null;
  return { name, kind, ends: [from, to], size, gap, mass, pullOff };
}

/** Stretches of a list of edges, each of which is there. */
function edges(ctx: ParseContext, path: string, written: string | readonly string[], what: string): EdgeRun[] | null {
  const refs = typeof written === 'string' ? [written] : written;
  const found = refs.map((ref, i) => ctx.attempt(typeof written === 'string' ? path : at(path, i), ref, () => ctx.reference(ref, what)));
  return found.every((r) => r !== null) ? found.flatMap((r) => r ?? []) : null;
}

function zip(ctx: ParseContext, path: string, name: string, form: ClosureForm, sewn: (run: EdgeRun) => boolean): ZipClosure | null {
  const kind = form.kind as ZipClosure['kind'],
    usual = ZIPS[kind],
    here = at(path, 'join');
  const sides = form.join?.map((side, i) => edges(ctx, at(here, i), side, 'a zip'));
  const size = form.size === undefined ? usual.size : ctx.size(at(path, 'size'), form.size, 'length', { min: 0.002, max: 0.03 }),
    slider = form.slider === undefined ? 1 : ctx.size(at(path, 'slider'), form.slider, 'number', { min: 0, above: true, max: 1 }),
    own = form.mass === undefined ? null : ctx.quantity(at(path, 'mass'), form.mass, 'lineMass', { min: 0, max: 5 });
  const [a, b] = sides ?? [];
  if (!a || !b || size === null || slider === null) return null;
  for (const [i, side] of [a, b].entries())
    if (side.some(sewn)) ctx.faults.addText(at(here, i), 'an edge that a seam takes up', 'an open edge: a zip is no longer than its opening');
  if (a.some((r, i) => [...a.slice(i + 1), ...b].some((s) => runsOverlap(r, s))) || b.some((r, i) => b.slice(i + 1).some((s) => runsOverlap(r, s))))
    ctx.faults.addText(here, 'the same stretch twice', 'each stretch once');
  const [la, lb] = [ctx.runLength(a), ctx.runLength(b)];
  if (Math.abs(la - lb) > UNEVEN * Math.min(la, lb))
    ctx.faults.addText(here, `edges of ${mm(la)} and ${mm(lb)}`, `two edges of one length, within ${100 * UNEVEN} %: a zip is no longer than its opening`);
  const scale = size / usual.size;
  return {
    name,
    kind,
    sides: [a, b],
    reversed: form.direction === undefined ? null : form.direction === 'against',
    size,
    lineMass: own ?? usual.lineMass * scale * scale,
    sliderMass: usual.slider * scale * scale,
    slider,
    closesFrom: form['closes from'] ?? 'start',
  };
}

function cord(ctx: ParseContext, path: string, name: string, form: ClosureForm): CordClosure | null {
  const kind = form.kind as CordClosure['kind'];
  const along = form.along === undefined ? null : edges(ctx, at(path, 'along'), form.along, 'a channel');
  const below = form.below === undefined ? 0 : ctx.size(at(path, 'below'), form.below, 'length', { min: 0, max: 0.3 }),
    drawnTo = form['drawn to'] === undefined ? null : ctx.size(at(path, 'drawn to'), form['drawn to'], 'length', { min: 0, above: true, max: LIMITS.length }),
    lineMass = form.mass === undefined ? CORDS[kind] : ctx.quantity(at(path, 'mass'), form.mass, 'lineMass', { min: 0, max: 5 }),
    friction = form.friction === undefined ? CORD_FRICTION : ctx.size(at(path, 'friction'), form.friction, 'number', { min: 0, max: LIMITS.friction });
  if (!along || below === null || drawnTo === null || lineMass === null || friction === null) return null;
  const length = ctx.runLength(along);
  if (!(drawnTo < length)) ctx.faults.add(at(path, 'drawn to'), form['drawn to'], `less than the ${mm(length)} of its channel`);
  else if (drawnTo < CROWDED * length)
    ctx.faults.add(at(path, 'drawn to'), form['drawn to'], `at least ${mm(CROWDED * length)}: cloth crowds in a channel of ${mm(length)}`);
  return { name, kind, along, below, length, drawnTo, lineMass, friction };
}

/** Names of what a stance closes, `left out`, or null after its faults. An absent list closes nothing. */
export function closedOf(
  ctx: ParseContext,
  path: string,
  written: readonly string[] | string,
  known: readonly string[],
): readonly string[] | typeof LEFT_OUT | null {
  const count = ctx.faults.faults.length,
    here = at(path, 'closed');
  if (typeof written === 'string') {
    if (written === LEFT_OUT) return LEFT_OUT;
    ctx.faults.add(here, written, `a list of closures, or "${LEFT_OUT}": the bag without them`);
    return null;
  }
  written.forEach((name, i) => {
    if (!known.includes(name))
      ctx.faults.add(at(here, i), name, known.length === 0 ? 'nothing: this bag has no closures' : oneOf('a closure of this bag', name, known));
    else if (written.indexOf(name) !== i) ctx.faults.add(at(here, i), name, 'each closure once');
  });
  return ctx.faults.faults.length > count ? null : written;
}
