/** Plates and columns pressed in their plane, and the swinging of strips and plates, against their check values. Each within the tolerance of its row. */
import { describe, expect, it } from 'vitest';
import type { Model } from '../../src/solver/types.ts';
import { criticalFactor } from '../../src/swatch/critical.ts';
import { isotropic } from '../../src/swatch/index.ts';
import { sheetModel } from '../../src/swatch/sheet.ts';
import { cutStrip, place, type Strip } from '../../src/swatch/strip.ts';
import { rectangle } from './flat-plate.ts';
import { bucklingFactor, frequencies } from './modes.ts';
import { gated, numbers, row } from './rows.ts';

const G = 9.80665;

function hold(id: string, what: string, got: number, want: number, tolerance: number): void {
  const r = row(id);
  const say = `${id} ${what}: got ${got.toPrecision(6)}, expected ${want} +- ${100 * tolerance} % (row: ${r.tolerance}); ${r.source} [${r.status}]`;
  console.log(say);
  if (gated(r)) expect(Math.abs(got / want - 1), say).toBeLessThanOrEqual(tolerance);
}

/** In-plane stiffness so high that plates buckle at a strain of some 1e-4: what the strain itself changes is as little. */
const [D, C, SIDE, NU] = [1, 1e7, 0.2, 0.3];
const EH = C * (1 - NU * NU);

describe('plates pressed in their plane: k in N = k pi^2 D/b^2 within 5 percent', () => {
  // Every edge that is held keeps its place in the plane, moved by an even strain: the stress is then even, and what happens in the plane has no part in buckling.
  const sheet = isotropic(0.034, D, C, NU);
  const unit = (Math.PI ** 2 * D) / SIDE ** 2;
  /** Strain per unit of k: even stresses nx, ny, shear in units of pi^2 D/b^2. */
  const pressed =
    (flat: Float64Array, nx: number, ny: number, nxy: number) =>
    (k: number): Float64Array => {
      const n = (k * unit) / EH;
      const [ex, ey, gxy] = [-n * (nx - NU * ny), -n * (ny - NU * nx), n * 2 * (1 + NU) * nxy];
      return Float64Array.from({ length: (flat.length / 2) * 3 }, (_, i) => {
        const [u, v] = [flat[2 * ((i / 3) | 0)], flat[2 * ((i / 3) | 0) + 1]];
        return [u + ex * u + gxy * v, v + ey * v, 0][i % 3];
      });
    };
  const wanted = numbers(row('pbk_ss').value);
  it.each([
    ['simply supported, pressed one way', 0, false, 1, 0, 0],
    ['simply supported, pressed both ways', 1, false, 1, 1, 0],
    ['clamped, pressed one way', 2, true, 1, 0, 0],
    ['clamped, pressed both ways', 3, true, 1, 1, 0],
    ['simply supported, sheared', 4, false, 0, 0, 1],
  ] as const)('pbk_ss, square, %s', (what, i, clamped, nx, ny, nxy) => {
    const edges = clamped ? 40 : 20;
    for (const kind of ['structured', 'irregular'] as const) {
      const held = rectangle(sheet, SIDE, SIDE, SIDE / edges, kind, clamped);
      hold('pbk_ss', `${what}, ${kind}, ${edges} edges`, bucklingFactor(held.model, pressed(held.flat, nx, ny, nxy), 0.7 * wanted[i]), wanted[i], 0.05);
    }
  });

  const ratios = [1, 2, 3, 5, 20];
  it.each(ratios.map((r, i) => [r, i]))('pbk_free, one long edge free, a/b = %d', (ratio, i) => {
    const [a, b] = [SIDE * ratio, SIDE];
    const want = numbers(row('pbk_free').value)[i];
    const s = cutStrip({ sheet, length: a, width: b, mesh: b / 16, kind: 'structured' });
    const model = sheetModel(s.mesh, sheet, 0, []);
    const three = new Set(['first', 'last', 'near'].flatMap((name) => [...s.mesh.outlines[0][name].verts]));
    for (const v of three) model.held[v] = 1;
    hold('pbk_free', `a/b ${ratio}, 16 edges across`, bucklingFactor(model, pressed(s.flat, 1, 0, 0), 0.7 * want), want, 0.05);
  });
});

const [L, B, EA] = [0.2, 1e-3, 1e4];
const strut = (): Strip => cutStrip({ sheet: isotropic(0.34, B, EA), length: L, mesh: L / 40 });
/** The strip flat in the plane, each end pinned or clamped. */
function ends(s: Strip, first: boolean, last: boolean): Model {
  const clamps = [
    ...(first ? [{ verts: s.first, direction: () => [-1, 0, 0] as const }] : []),
    ...(last ? [{ verts: s.last, direction: () => [1, 0, 0] as const }] : []),
  ];
  const model = sheetModel(s.mesh, s.spec.sheet, 0, clamps);
  for (const v of [...s.first, ...s.last]) model.held[v] = 1;
  return model;
}

describe('columns: P L^2/B within 2 percent', () => {
  it.each([
    ['euler_pinned', false, false],
    ['euler_fixed_fixed', true, true],
    ['euler_fixed_pinned', true, false],
  ] as const)('%s, pressed by its ends', (id, first, last) => {
    const s = strut();
    const want = Number(row(id).value);
    const shorter = (K: number) => place(s, (u, v) => [u * (1 - (K * B) / (L * L * EA)), v, 0]);
    hold(id, '40 edges', bucklingFactor(ends(s, first, last), shorter, 0.7 * want), want, 0.02);
  });

  it('euler_fixed_free, clamped at its foot, a weight on its head', () => {
    const s = cutStrip({ sheet: isotropic(1e-5, B, EA), length: L, mesh: L / 40 });
    const bare = sheetModel(s.mesh, s.spec.sheet, 0, [{ verts: s.first, direction: () => [0, 0, -1] as const }]);
    const mass = bare.mass.slice();
    const order = [...s.last].sort((a, b) => s.flat[2 * a + 1] - s.flat[2 * b + 1]);
    // The head's weight is B W/L^2 at factor 1; the strip's own is 3e-5 of it.
    const head = (B * s.width) / (L * L) / G;
    for (let i = 0; i + 1 < order.length; i++)
      for (const v of [order[i], order[i + 1]]) mass[v] += (head / 2) * ((s.flat[2 * order[i + 1] + 1] - s.flat[2 * order[i] + 1]) / s.width);
    const want = Number(row('euler_fixed_free').value);
    const found = criticalFactor(
      { ...bare, mass },
      'arc-corrected',
      place(s, (u, v) => [0, v, u]),
      [1, 0, 0],
      0.7 * want,
      1,
    );
    hold('euler_fixed_free', '40 edges', found.factor, want, 0.02);
  });
});

describe('strips standing under their own weight, their head guided: w L^3/B within 3 percent', () => {
  it.each([
    ['selfb_pinned_pinned', false, false],
    ['selfb_fixed_fixed', true, true],
    ['selfb_bottom_fixed_top_pinned', true, false],
  ] as const)('%s', (id, first, last) => {
    const s = strut();
    const want = Number(row(id).value);
    // A head that is free to go down carries nothing: strain at u is w (L - u)/C, and the head is held where that takes it.
    const sunk = (K: number) => place(s, (u, v) => [u - (K * B * (L * u - (u * u) / 2)) / (L ** 3 * EA), v, 0]);
    hold(id, '40 edges', bucklingFactor(ends(s, first, last), sunk, 0.7 * want), want, 0.03);
  });
});

describe('swinging: omega L^2 sqrt(rho/B) within 2 percent', () => {
  const want = numbers(row('freq').value);
  const rho = 0.34;
  const flatOf = (flat: Float64Array) => Float64Array.from({ length: (flat.length / 2) * 3 }, (_, i) => (i % 3 === 2 ? 0 : flat[2 * ((i / 3) | 0) + (i % 3)]));

  it('freq, clamped and free strip, first and second mode', () => {
    const s = cutStrip({ sheet: isotropic(rho, B, EA), length: L, width: L / 20, mesh: L / 60, kind: 'equilateral' });
    const model = sheetModel(s.mesh, s.spec.sheet, 0, [{ verts: s.first, direction: () => [-1, 0, 0] as const }]);
    // So narrow a strip twists and swings in its plane at far higher frequencies.
    const got = frequencies(model, flatOf(s.flat), 2).map((w) => w * L * L * Math.sqrt(rho / B));
    hold('freq', 'first', got[0], want[0], 0.02);
    hold('freq', 'second', got[1], want[1], 0.02);
  });

  it('freq, simply supported square plate', () => {
    const held = rectangle(isotropic(rho, D, C, NU), SIDE, SIDE, SIDE / 20, 'structured', false);
    const [w] = frequencies(held.model, flatOf(held.flat), 1);
    hold('freq', 'plate, 20 edges', w * SIDE * SIDE * Math.sqrt(rho / D), want[2], 0.02);
  });

  it('freq, strip clamped at both ends', () => {
    const s = strut();
    const [w] = frequencies(ends(s, true, true), flatOf(s.flat), 1);
    hold('freq', 'clamped strip, 40 edges', w * L * L * Math.sqrt(rho / B), want[3], 0.02);
  });
});
