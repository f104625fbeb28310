import type { Support } from '../solver/types.ts';
import { tubeHeight } from './elastica.ts';
import { stripOf } from './hanging.ts';
import { finished, type Setup, settleFor, type TestResult } from './result.ts';
import { sheetModel } from './sheet.ts';
import { crownHeight, extremeHeight, loadOf, place } from './strip.ts';

/** Distance at which the table is felt, m; the table's face lies this much below z = 0. */
const SKIN = 1e-3;
// Grips enough that the round tube does not roll away; theory is symmetric and needs none.
const TABLE: Support = { name: 'table', sdf: { kind: 'plane', point: [0, 0, -SKIN], normal: [0, 0, 1] }, friction: 0.6, offset: SKIN };

/**
 * Tube of circumference L lying on a table: height over the diameter L/pi of the weightless tube. Without a length K = w L^3/B = 80.
 * Theory: exact elastica with a line of contact, and above K = 147.1 a flat patch. Source: computed.
 */
export function tube(setup: Setup): TestResult {
  const s = stripOf(setup, 80, { closed: true });
  const R = s.length / (2 * Math.PI);
  const model = sheetModel(s.mesh, setup.sheet, s.warp, [], [TABLE]);
  // The joint is put at a quarter, away from the places that are read.
  const start = place(s, (u, v) => [R * Math.cos(u / R), v, R * (1 + Math.sin(u / R))]);
  const state = settleFor(setup, model, start);
  const K = loadOf(s);
  const theory = K <= 1500 ? tubeHeight(K) : null;
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
