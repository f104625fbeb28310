import { cableLengths } from '../elastic/cables.ts';
import { commitCords, pullCords, putBackCords, saveCords } from '../elastic/cords.ts';
import type { System } from '../system.ts';
import type { Model, Ties } from '../types.ts';
import type { Work } from '../work.ts';
import { pseudoTransientSteps } from './pseudo-transient.ts';

/** How far ties are drawn up, and a led point is taken, at a time, m. */
const PULL = 0.01;
/** Share of a group's order over which a tie is drawn up: a slider closes what is near it, not all of a zip at once. */
const REACH = 0.3;
/** Steps after each pull, and once all is drawn up. */
const STEPS = 5;
const LAST_STEPS = 40;
/** A tie that lags behind by this much, m, is waited for, as often as this; what does not come then has something in the way. */
const LAG = 0.002;
const WAITS = 8;
/** A led point has arrived within this of where it is led, m. */
const LED = 0.02;
/** A hand that leads: N/m, and N at most. Firm beside cloth, and no more than a hand pulls. */
const HAND = { stiffness: 400, most: 40 } as const;
/** What lies this near the lowest point is held on the table, m. */
const ON_TABLE = 0.002;
/** Length of a tie that is not drawn up yet, m: it never pulls. */
const OPEN = 1e9;

/** A point of a group that is taken to a place before its ties are drawn up, so that it goes round what a straight way would pass through. */
export interface Lead {
  readonly group: number;
  readonly vertex: number;
  /** m */ readonly to: readonly [number, number, number];
}

/** What drawing up has come to. */
export interface Closed {
  /** 3n, m */ readonly x: Float64Array;
  /** Per tie, m: how much longer it stayed than it was to be; nought of what closed. */ readonly left: Float64Array;
  readonly cancelled: boolean;
}

/** The model as hands hold it while it is closed: without weight and loads, held by its clips, or by what lies on its table at x. */
export function inHands(model: Model, x: Float64Array): Model {
  const { load: _, ...rest } = model,
    held = model.held.slice(),
    sheet = new Set(model.triVerts);
  let low = Number.POSITIVE_INFINITY;
  for (const v of sheet) low = Math.min(low, x[3 * v + 2]!);
  if (!held.includes(1)) for (const v of sheet) if (x[3 * v + 2]! < low + ON_TABLE) held[v] = 1;
  return { ...rest, held, gravity: [0, 0, 0] };
}

/**
 * Draws up the ties of a model from the open start x0 (3n, not mutated), one group after another, each along its own order, in small steps that only lower the energy
 * and are cut at what they meet, so that nothing crosses. What lags behind is waited for; what still does not come is left where it is, and so are the groups after it. The model is best
 * that of inHands(); the caller then settles the real one from x, with the ties that came short left long by leaveLong().
 * Mutates sys. told: the fraction done and positions after each step; false cancels.
 */
export function* closing(sys: System, x0: Float64Array, leads: readonly Lead[], told: (fraction: number, x: Float64Array) => boolean): Work<Closed> {
  const { cables } = sys.el,
    ties = sys.model.cables?.ties,
    x = x0.slice();
  if (!cables || !ties) return { x, left: new Float64Array(0), cancelled: false };
  const { rest } = cables.cables,
    count = cables.count - ties.first,
    left = new Float64Array(count),
    groups = count === 0 ? 0 : ties.group[count - 1]! + 1;
  for (let i = 0; i < count; i++) cables.drawn[ties.first + i] = OPEN;
  let cancelled = false,
    stuck = false;
  if (sys.el.cords) sys.el.cords.rubs = false;
  const steps = (most: number, fraction: number) =>
    pseudoTransientSteps(sys, x, {
      formulation: 'plain',
      tolerance: 1,
      dt: 0.02,
      grow: 2,
      dtMax: 1,
      cap: PULL,
      monotone: true,
      correct: true,
      maxIterations: most,
      cg: 1e-2,
      watch: (_, __, at) => {
        cancelled ||= !told(fraction, at);
        return !cancelled;
      },
    });
  for (let g = 0; g < groups && !cancelled; g++) {
    const own = [...ties.group.keys()].filter((i) => ties.group[i] === g);
    const lead = leads.find((l) => l.group === g);
    if (lead && !stuck) yield* leading(sys, x, lead, () => steps(STEPS, g / groups));
    const open = cableLengths(cables, x),
      // All at once, or along the order: by the end the last one has had its share of the way as well.
      share = inOrder(ties, own) ? REACH : 1,
      whole = share < 1 ? 1 + share : 1,
      furthest = Math.max(0, ...own.map((i) => open[ties.first + i]! - rest[ties.first + i]!)),
      pulls = Math.max(1, Math.ceil((whole * furthest) / (share * PULL)));
    const lags = (): boolean => {
      const now = cableLengths(cables, x);
      return own.some((i) => now[ties.first + i]! - cables.drawn[ties.first + i]! > LAG);
    };
    for (let k = 1; k <= pulls && !stuck && !cancelled; k++) {
      for (const i of own) {
        const c = ties.first + i,
          begun = ((k / pulls) * whole - (share < 1 ? ties.along[i]! : 0)) / share;
        cables.drawn[c] = begun <= 0 ? OPEN : rest[c]! + (1 - Math.min(1, begun)) * Math.max(0, open[c]! - rest[c]!);
      }
      for (let wait = 0; wait <= WAITS && !cancelled; wait++) {
        // What its spring does not bring takes a harder pull.
        if (wait > WAITS / 2) pullOn(sys, x);
        yield* steps(STEPS, (g + k / pulls) / groups);
        if (!lags()) break;
        stuck = wait === WAITS;
      }
    }
    if (!stuck) continue;
    const now = cableLengths(cables, x);
    for (const i of own) left[i] = Math.max(0, now[ties.first + i]! - rest[ties.first + i]!);
    leaveLong(sys, left);
  }
  if (!cancelled) yield* steps(LAST_STEPS, 1);
  if (sys.el.cords) sys.el.cords.rubs = true;
  return { x, left, cancelled };
}

/** Cords pull and rub in one system as they do in another of the same bag. Mutates `to`. */
export function handOver(from: System, to: System): void {
  if (from.el.cords) putBackCords(to.el.cords!, to.el.cables!, saveCords(from.el.cords, from.el.cables!));
}

/** Ties that stayed long keep that length. left: as closing() tells it. Mutates sys. */
export function leaveLong(sys: System, left: Float64Array): void {
  const { cables } = sys.el,
    first = sys.model.cables?.ties?.first ?? 0;
  left.forEach((l, i) => {
    cables!.drawn[first + i] = cables!.cables.rest[first + i]! + l;
  });
}

/** Cords that lag are pulled harder. */
function pullOn({ el }: System, x: Float64Array): void {
  if (!el.cords) return;
  commitCords(el.cords, el.cables!, x);
  pullCords(el.cords, el.cables!);
}

/** Does the group close along an order, as a zip does? */
const inOrder = ({ along }: Ties, own: readonly number[]): boolean => own.some((i) => along[i] !== along[own[0]!]);

/** Takes a point by the hand from where it is to where it is led, and lets go. */
function* leading(sys: System, x: Float64Array, { vertex, to }: Lead, steps: () => Work<unknown>): Work<void> {
  const from = [0, 1, 2].map((k) => x[3 * vertex + k]!),
    far = (): number => Math.sqrt([0, 1, 2].reduce((sum, k) => sum + (x[3 * vertex + k]! - to[k]!) * (x[3 * vertex + k]! - to[k]!), 0)),
    pulls = Math.ceil(far() / PULL);
  for (let k = 1; k <= pulls + WAITS; k++) {
    const f = Math.min(1, k / pulls),
      at = (i: 0 | 1 | 2): number => from[i]! + f * (to[i] - from[i]!);
    sys.hand = { vertex, target: [at(0), at(1), at(2)], ...HAND };
    yield* steps();
    if (k >= pulls && far() < LED) break;
  }
  sys.hand = null;
}
