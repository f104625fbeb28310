/** Strips bent by end moments, by a load on a strut's head, and hung as a chain: against their check values. */
import { describe, expect, it } from 'vitest';
import { settle } from '../../src/solver/index.ts';
import { isotropic } from '../../src/swatch/index.ts';
import { sheetModel } from '../../src/swatch/sheet.ts';
import { cutStrip, extremeHeight, middleOf, place, type Strip } from '../../src/swatch/strip.ts';
import { plates } from '../solver/sheets.ts';
import { numbers, type Row, rows } from './rows.ts';

const G = 9.80665;
const L = 0.2;
const rowsOf = (pattern: RegExp) => rows.filter((r) => pattern.test(r.id)).map((r) => [r.id, r] as const);
const detail = (r: Row, name: string): number => Number(new RegExp(`${name} (-?[\\d.]+)`).exec(r.detail ?? '')?.[1]);

function hold(r: Row, what: string, got: number, want: number, tolerance: number, state: { status: string; residual: number }): void {
  const say = `${r.id} ${what}: got ${got.toFixed(5)}, expected ${want} +- ${tolerance} (${r.tolerance}); ${state.status} ${state.residual.toExponential(1)}; ${r.source} [${r.status}]`;
  console.log(say);
  expect(state.status, say).toBe('settled');
  expect(Math.abs(got - want), say).toBeLessThanOrEqual(tolerance);
}

/** The strip bent to a circular arc of the whole angle `turn`, level at its foot. */
const arc = (s: Strip, turn: number): Float64Array =>
  place(s, (u, v) => [(Math.sin((turn * u) / L) * L) / turn, v, ((1 - Math.cos((turn * u) / L)) * L) / turn]);

describe('end moment: tip of the circular arc within 0.5 percent of L', () => {
  it.each(rowsOf(/^moment_/))('%s', (_, r) => {
    const m = Number(r.id.split('_')[1]);
    const s = cutStrip({ sheet: isotropic(3.4e-4, 1e-2, 5e3), length: L, mesh: 0.005 });
    const along = [-1, 0, 0] as const;
    const end = [Math.cos(m), 0, Math.sin(m)] as const;
    // All but weightless, w L^3/B = 0.003: sags by 4e-4 of L at most.
    const free = sheetModel(s.mesh, s.spec.sheet, 0, [
      { verts: s.first, direction: () => along },
      { verts: s.last, direction: () => end, place: false },
    ]);
    // The table's arcs lie in a plane: two smooth plates keep the strip in it. Left free, the closed ring rolls out of it and ends straight, where its end
    // points the same way at no moment at all.
    const model = { ...free, supports: plates(s.width) };
    const state = settle(model, arc(s, 0.9 * m));
    const [x, , z] = middleOf(s, s.last, state.x);
    const [wantX, wantY] = numbers(r.value);
    hold(r, 'x/L', x / L, wantX, 0.005, state);
    hold(r, 'y/L', z / L, wantY, 0.005, state);
  });
});

describe('strut clamped at its foot, a weight on its head: bent place of the head within 2 percent of L', () => {
  it.each(rowsOf(/^pb_/))('%s', (_, r) => {
    const B = 1e-3;
    const s = cutStrip({ sheet: isotropic(1e-5, B, 5e3), length: L, mesh: 0.005 });
    const bare = sheetModel(s.mesh, s.spec.sheet, 0, [{ verts: s.first, direction: () => [0, 0, -1] as const }]);
    const head = (Number(r.value) * Math.PI ** 2 * B * s.width) / (4 * L * L) / G;
    const mass = bare.mass.slice();
    const order = [...s.last].sort((a, b) => s.flat[2 * a + 1] - s.flat[2 * b + 1]);
    for (let i = 0; i + 1 < order.length; i++)
      for (const v of [order[i], order[i + 1]]) mass[v] += (head / 2) * ((s.flat[2 * order[i + 1] + 1] - s.flat[2 * order[i] + 1]) / s.width);
    const turn = (detail({ ...r, detail: r.quantity } as Row, 'tip angle') * Math.PI) / 180;
    const start = place(s, (u, v) => [((1 - Math.cos((turn * u) / L)) * L) / turn, v, (Math.sin((turn * u) / L) * L) / turn]);
    const state = settle({ ...bare, mass }, start);
    const [x, , z] = middleOf(s, s.last, state.x);
    hold(r, 'x/l (height)', z / L, detail(r, 'x/l'), 0.02, state);
    hold(r, 'y/l (sideways)', x / L, detail(r, 'y/l'), 0.02, state);
  });
});

describe('a strap without stiffness hung by its ends: sag and pull within 1 percent of the catenary', () => {
  it.each(rowsOf(/^cat_/))('%s', (_, r) => {
    const ratio = Number(r.id.split('_')[1]);
    const span = L / ratio;
    const s = cutStrip({ sheet: isotropic(0.34, 1e-9, 2e4), length: L, mesh: 0.004, kind: 'structured' });
    const bare = sheetModel(s.mesh, s.spec.sheet, 0, []);
    const held = bare.held.slice();
    for (const v of [...s.first, ...s.last]) held[v] = 1;
    // Starts as a V of the right length.
    const deep = Math.sqrt((L / 2) ** 2 - (span / 2) ** 2);
    const start = place(s, (u, v) => [(span * u) / L, v, -deep * (1 - Math.abs((2 * u) / L - 1))]);
    const state = settle({ ...bare, held }, start);
    hold(r, 'sag/span', -extremeHeight(s, state.x, -1) / span, Number(r.value), 0.01 * Number(r.value), state);
    let pull = 0;
    for (const v of s.first) pull -= state.reaction[3 * v];
    const want = detail(r, 'H/\\(w span\\)');
    hold(r, 'H/(w span)', pull / (0.34 * G * s.width * span), want, 0.01 * want, state);
  });
});
