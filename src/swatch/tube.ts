import { libm } from '../numerics/index.ts';
import type { Support } from '../solver/types.ts';
import { tubeHeight } from './elastica.ts';
import { stripOf } from './hanging.ts';
import { finished, type Setup, settleFor, type TestResult } from './result.ts';
import { sheetModel } from './sheet.ts';
import { crownHeight, extremeHeight, loadOf, place } from './strip.ts';

/** Distance at which the table is felt, m; the table's face lies this much below z = 0. */
const SKIN = 1e-3;
const TABLE: Support = { name: 'table', sdf: { kind: 'plane', point: [0, 0, -SKIN], normal: [0, 0, 1] }, friction: 0.6, offset: SKIN };

/**
 * Ellipse of circumference L standing on z = 0, `half` to its middle, by arc length u from its lowest point: a start near the tube's rest, because a
 * large stiff ring that is let fall round goes on rocking for longer than the solver waits. Where it comes to rest does not depend on it.
 */
function oval(L: number, half: number): (u: number, v: number) => readonly [number, number, number] {
  const N = 2000;
  const walk = (a: number): Float64Array => {
    const along = new Float64Array(N + 1);
    for (let i = 0; i < N; i++) {
      const t = (2 * Math.PI * (i + 0.5)) / N;
      along[i + 1] = along[i] + ((2 * Math.PI) / N) * libm.hypot(a * libm.cos(t), half * libm.sin(t));
    }
    return along;
  };
  let [low, high] = [half, L];
  for (let k = 0; k < 60; k++) {
    const mid = (low + high) / 2;
    if (walk(mid)[N] > L) high = mid;
    else low = mid;
  }
  const along = walk(low);
  return (u, v) => {
    const s = (u / L) * along[N];
    let i = Math.min(N - 1, Math.floor((s / along[N]) * N));
    while (i > 0 && along[i] > s) i--;
    while (i < N - 1 && along[i + 1] < s) i++;
    const t = (2 * Math.PI * (i + (s - along[i]) / (along[i + 1] - along[i]))) / N;
    return [low * libm.sin(t), v, half * (1 - libm.cos(t))];
  };
}

/**
 * Tube of circumference L lying on a table: height over the diameter L/pi of the weightless tube. Without a length K = w L^3/B = 80.
 * Its lowest line is held where it lies, or a stiff tube would roll to and fro for longer than the solver waits; theory is symmetric about it.
 * Theory: exact elastica with a line of contact, and above K = 147.1 a flat patch. Source: computed.
 */
export function tube(setup: Setup): TestResult {
  const s = stripOf(setup, 80, { closed: true });
  const R = s.length / (2 * Math.PI);
  const K = loadOf(s);
  const theory = K <= 1500 ? tubeHeight(K) : null;
  const model = sheetModel(s.mesh, setup.sheet, s.warp, [], [TABLE]);
  // The joint, grown together, is the one line of vertices that every mesh kind has: it lies on the table.
  for (const v of s.first) model.held[v] = 1;
  const at = oval(s.length, Math.max(0.5, theory?.height ?? 1) * R);
  const start = place(s, at);
  const state = settleFor(setup, model, start);
  const height = crownHeight(s, state.x) - extremeHeight(s, state.x, -1);
  return finished(
    {
      test: 'tube',
      reading: height / (2 * R),
      theory: theory?.height ?? null,
      unit: '1',
      quantity: 'height of a tube on a table, at the middle of its top, over its round diameter',
      formula: "B theta'' = H sin(theta) + w s cos(theta), s from the top; flat patch where the curvature vanishes",
      source: 'exact elastica computed',
      load: K,
      more: { length: s.length, diameter: 2 * R, touching: state.contact.touching },
    },
    model,
    state,
  );
}
