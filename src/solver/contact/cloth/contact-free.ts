import type { Work } from '../../work.ts';
import { edgeEdge, vertexTriangle } from './closest.ts';
import { type PairContact, sweeping } from './pairs.ts';

/**
 * A firm bag touches itself nowhere, yet every step of its nudges looked for what might meet: a quarter of their time. Where all pairs of the cloth are `least`
 * apart or more, none can meet or be felt as long as every vertex stays within `radius` of where it was then: distances shrink by 2 radius at most, so that none gets
 * under r, and a step within it moves a pair's sides 4 radius toward each other at most, less than the 0.8 of their distance from which on truncatePairs looks at it.
 * What is left out would have changed nothing: results are the same to the last byte.
 */
export interface ContactFree {
  /** 3n: positions it holds about. */ readonly centre: Float64Array;
  /** The contact-free radius, m; 0: not known to be free of contact. */ radius: number;
  /** Steps until it is asked again, after it was asked in vain. */ wait: number;
}

/** How far around each pair is looked, m, and the least radius that is worth it. */
const LOOK = 4e-3;
const LEAST_RADIUS = 1e-4;
/** Steps that go without asking after it was asked in vain. */
const PAUSE = 16;

const CLOSEST = new Float64Array(8);

/** true where no pair can meet or be felt on the way from x to x + d. */
export function staysContactFree(pc: PairContact, x: Float64Array, d: Float64Array): boolean {
  const { centre, radius } = pc.contactFree;
  if (radius === 0) return false;
  const most = radius * radius;
  for (let q = 0; q < x.length; q += 3) {
    const u = x[q]! - centre[q]!,
      v = x[q + 1]! - centre[q + 1]!,
      w = x[q + 2]! - centre[q + 2]!,
      a = u + d[q]!,
      b = v + d[q + 1]!,
      c = w + d[q + 2]!;
    if (u * u + v * v + w * w > most || a * a + b * b + c * c > most) return false;
  }
  return true;
}

/** Finds the contact-free radius about x, in steps, unless that was asked in vain a while ago; true where there is one. Uses up the candidate lists. Mutates pc. */
export function* findingContactFree(pc: PairContact, x: Float64Array): Work<boolean> {
  const { contactFree, edges, model } = pc;
  contactFree.radius = 0;
  if (contactFree.wait-- > 0) return false;
  yield* sweeping(pc, x, new Float64Array(x.length), LOOK / 2);
  let least = LOOK;
  const tri = model.triVerts,
    enough = Math.max(7.1 * LEAST_RADIUS, pc.r + 2 * LEAST_RADIUS);
  for (let p = 0; p < pc.vt.count && least >= enough; p++) {
    const t = 3 * pc.vt.data[2 * p + 1]!;
    vertexTriangle(x, pc.vt.data[2 * p]!, tri[t]!, tri[t + 1]!, tri[t + 2]!, CLOSEST);
    least = Math.min(least, CLOSEST[0]!);
  }
  for (let p = 0; p < pc.ee.count && least >= enough; p++) {
    const e = 2 * pc.ee.data[2 * p]!,
      f = 2 * pc.ee.data[2 * p + 1]!;
    edgeEdge(x, edges[e]!, edges[e + 1]!, edges[f]!, edges[f + 1]!, CLOSEST);
    least = Math.min(least, CLOSEST[0]!);
  }
  contactFree.wait = least < enough ? PAUSE : 0;
  if (least < enough) return false;
  contactFree.radius = Math.min(least / 7.1, (least - pc.r) / 2);
  contactFree.centre.set(x);
  return true;
}
