import { settle } from '../../src/solver/index.ts';
import { isotropic, type Sheet, swatchTest } from '../../src/swatch/index.ts';
import { sheetModel } from '../../src/swatch/sheet.ts';
import { cutStrip, extremeHeight, middleOf, place } from '../../src/swatch/strip.ts';
import table from '../data/check-values.json';
import { plates } from '../solver/sheets.ts';
import { family, G, head, settledOr, WEIGHT } from './accuracy-table.ts';

// The rows' tolerances are the bars of the tests at 5 mm; no second figure is set for 2.5 mm, where the same is asked.
const entries = (pattern: RegExp) =>
  table.entries
    .filter((r) => pattern.test(r.id))
    .map((r) => ({ id: r.id, value: r.value as number, tail: Number(r.id.replace(/^[a-z]+_/, '')), detail: ('detail' in r ? r.detail : '') as string }));
const figure = (text: string, name: string): number => Number(new RegExp(`${name} (-?[\\d.]+)`).exec(text)?.[1]);
/** A sheet whose strip of 200 mm carries the load w L^3/B = K. */
const ofLoad = (K: number): Sheet => isotropic(WEIGHT, (WEIGHT * G * 0.008) / K, 5e3);

/** Check values of strips: own weight, tip weight, tubes, end moment, catenary. */
export function values(): void {
  console.log('\n### Check values of strips of 200 mm, C = 5e3: worst error over the rows, at 5 / 2.5 mm, irregular mesh\n');
  head('rows', 'read', 'bar', '5 / 2.5 mm', 'worst at');
  family('strip under its own weight, K = 0.1 .. 125', 'drop and reach', 1, '% of L', (mesh) =>
    entries(/^unif_/).flatMap((r) => {
      const t = swatchTest('cantilever', { sheet: ofLoad(r.tail), length: 0.2, mesh });
      return [
        [r.id, settledOr(t, 100 * (t.more.drop - r.value))],
        [r.id, settledOr(t, 100 * (t.more.reach - figure(r.detail, 'x_tip/L')))],
      ] as const;
    }),
  );
  family('weight at the tip (Bisshopp and Drucker), P L^2/B = 0.1 .. 20', 'drop and reach', 1, '% of L', (mesh) =>
    entries(/^tip_/).flatMap((r) => {
      const t = swatchTest('tip', { sheet: ofLoad(1), length: 0.2, mesh, tipLoad: r.tail, weightless: true });
      return [
        [r.id, settledOr(t, 100 * (t.reading - r.value))],
        [r.id, settledOr(t, 100 * (t.more.reach - figure(r.detail, 'x_tip/L')))],
      ] as const;
    }),
  );
  family('tube on a table, K = 1 .. 120', 'height', 1, '% of D', (mesh) =>
    entries(/^sring_/).map((r) => {
      const t = swatchTest('tube', { sheet: ofLoad(r.tail), length: 0.2, mesh });
      return [r.id, settledOr(t, 100 * (t.reading - r.value))] as const;
    }),
  );
  family('tube with a flat patch, K = 150 .. 1000', 'height', 2, '% of D', (mesh) =>
    entries(/^sringf_/).map((r) => {
      const t = swatchTest('tube', { sheet: ofLoad(r.tail), length: 0.2, mesh });
      return [r.id, settledOr(t, 100 * (t.reading - r.value))] as const;
    }),
  );
  family('end moment, up to the closed circle', 'place of the tip', 0.5, '% of L', (mesh) =>
    [0.5, 1, Math.PI, 2 * Math.PI].map((m) => {
      const L = 0.2;
      const s = cutStrip({ sheet: isotropic(3.4e-4, 1e-2, 5e3), length: L, mesh });
      const model = sheetModel(s.mesh, s.spec.sheet, 0, [
        { verts: s.first, direction: () => [-1, 0, 0] as const },
        { verts: s.last, direction: () => [Math.cos(m), 0, Math.sin(m)] as const, place: false },
      ]);
      const turn = 0.9 * m;
      const t = settle(
        { ...model, supports: plates(s.width) },
        place(s, (u, v) => [(Math.sin((turn * u) / L) * L) / turn, v, ((1 - Math.cos((turn * u) / L)) * L) / turn]),
      );
      const [x, , z] = middleOf(s, s.last, t.x);
      return [`M L/B ${m.toFixed(2)}`, settledOr(t, 100 * Math.hypot(x / L - Math.sin(m) / m, z / L - (1 - Math.cos(m)) / m))] as const;
    }),
  );
  family('catenary (no rigidity), length over span 1.01 .. 3', 'sag and pull', 1, '%', (mesh) =>
    entries(/^cat_/).flatMap((r) => {
      const [L, span] = [0.2, 0.2 / r.tail];
      const s = cutStrip({ sheet: isotropic(WEIGHT, 1e-9, 2e4), length: L, mesh, kind: 'structured' });
      const bare = sheetModel(s.mesh, s.spec.sheet, 0, []);
      const held = bare.held.slice();
      for (const v of [...s.first, ...s.last]) held[v] = 1;
      const deep = Math.sqrt((L / 2) ** 2 - (span / 2) ** 2);
      const t = settle(
        { ...bare, held },
        place(s, (u, v) => [(span * u) / L, v, -deep * (1 - Math.abs((2 * u) / L - 1))]),
      );
      let pull = 0;
      for (const v of s.first) pull -= t.reaction[3 * v];
      const H = pull / (WEIGHT * G * s.width * span);
      return [
        [`${r.id} sag`, settledOr(t, 100 * (-extremeHeight(s, t.x, -1) / span / r.value - 1))],
        [`${r.id} pull`, settledOr(t, 100 * (H / figure(r.detail, 'H/\\(w span\\)') - 1))],
      ] as const;
    }),
  );
}
