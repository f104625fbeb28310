import type { SpanContact } from './span-force.ts';
import { createSpan, faceSpan, usePoints } from './spans.ts';

const span = createSpan();

/** Share of the room to a support or a body that one step may use up, and passes before what is still unclean stays where it is. */
export const USE = 0.9;
export const PASSES = 4;
/** Room that no step uses, m: more than the nearest places are off by. */
export const HAIR = 1e-9;

/** How far the step d (3n) takes vertex v, m. */
export const stepOf = (d: Float64Array, v: number): number => Math.sqrt(d[3 * v]! * d[3 * v]! + d[3 * v + 1]! * d[3 * v + 1]! + d[3 * v + 2]! * d[3 * v + 2]!);

/**
 * Cuts the step d (3n, mutated) so that no face is passed by a support: the plane through the support's nearest point keeps separating them, as both are convex.
 * Only the part along its normal is cut, so that what slides goes on sliding. Call right after truncateAtSupports at the same x.
 */
export function truncateSpans(c: SpanContact, x: Float64Array, d: Float64Array): void {
  const { spans, model } = c,
    m = c.model.triVerts.length / 3,
    tri = model.triVerts;
  let most = 0;
  for (let v = 0; v < spans.inSheet.length; v++) if (spans.inSheet[v]) most = Math.max(most, stepOf(d, v));
  for (const [number, sup] of c.supports) {
    if (!usePoints(spans, c.points.distances[number]!, most / USE)) continue;
    for (let pass = 0; pass <= PASSES; pass++) {
      let clean = true;
      for (let f = 0; f < m; f++) {
        const reach = Math.max(stepOf(d, tri[3 * f]!), stepOf(d, tri[3 * f + 1]!), stepOf(d, tri[3 * f + 2]!)) / USE;
        if (reach > 0 && faceSpan(spans, sup.sdf, x, f, reach, 0, span) && cut(x, d, pass === PASSES)) clean = false;
      }
      if (clean) break;
    }
  }
}

/** Cuts the steps of the three vertices in `span`; true when one had to be. */
function cut(x: Float64Array, d: Float64Array, stop: boolean): boolean {
  const n = span.n,
    room = USE * Math.max(span.d - HAIR, 0);
  let at = 0,
    did = false;
  for (let i = 0; i < 3; i++) for (let k = 0; k < 3; k++) at += span.weights[i]! * n[k]! * x[3 * span.verts[i]! + k]!;
  for (let i = 0; i < 3; i++) {
    const v = 3 * span.verts[i]!,
      above = Math.max(0, n[0]! * x[v]! + n[1]! * x[v + 1]! + n[2]! * x[v + 2]! - at),
      over = -(n[0]! * d[v]! + n[1]! * d[v + 1]! + n[2]! * d[v + 2]!) - room - above;
    if (!(over > 1e-15)) continue;
    did = true;
    for (let k = 0; k < 3; k++) d[v + k] = stop ? 0 : d[v + k]! + over * n[k]!;
  }
  return did;
}
