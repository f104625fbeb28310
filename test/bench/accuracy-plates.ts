import { drape } from '../../src/swatch/drape.ts';
import { isotropic } from '../../src/swatch/index.ts';
import { rectangle, sag } from '../standards/flat-plate.ts';
import { bar, fixed, G, head, KINDS, line, SIZES, settledOr } from './accuracy-table.ts';

/** Square plates and drape discs. */
export function platesAndDrape(): void {
  console.log(
    '\n### Plates of 200 mm, Poisson 0.3: middle over its exact value, %, at 10 / 20 / 40 edges a side, and what the two finer point to. Bar "1-2 % where the mesh is fine"\n',
  );
  head('plate', ...(['structured', 'equilateral', 'irregular'] as const));
  for (const [name, clamped, exact] of [
    ['simply supported', false, 0.00406235],
    ['clamped', true, 0.00126532],
  ] as const) {
    const plates = bar(`${name} square plate, middle, at 20 / 40 edges a side`, [2, 2], '%');
    line(
      name,
      ...KINDS.map((kind) => {
        const errors = [10, 20, 40].map((n) => {
          const r = sag(rectangle(isotropic(0.034, 1, 100, 0.3), 0.2, 0.2, 0.2 / n, kind, clamped));
          return settledOr(r, 100 * (r.sag / (0.034 * G * 0.2 ** 4) / exact - 1));
        });
        plates(0, errors[1], kind);
        plates(1, errors[2], kind);
        return `${errors.map((e) => fixed(e, 2)).join(' / ')} -> ${fixed(errors[2] - (errors[1] - errors[2]) / 3, 2)}`;
      }),
    );
  }

  console.log('\n### Drape, 200 g/m2: coefficient, %, over mesh, waviness of the start and steps of the solver. Bars of spread: 5 points at 5 mm, 3 at 2.5 mm');
  console.log('Published coefficients are of cloth that keeps the folds its friction holds, and read lower; shown by `swatch drape`, not gated.\n');
  head('disc', 'D, N*m', 'mesh, mm', 'waviness', 'first step s, growth, cap mm', 'coefficient', 'folds', 'vertices');
  type Steps = readonly [dt: number, grow: number, cap: number];
  const USUAL: Steps = [0.01, 2.5, 20];
  const VARIED: readonly (readonly [coarser: number, seed: number, steps: Steps])[] = [
    [1, 1, USUAL],
    [1, 2, USUAL],
    [1.1, 1, USUAL],
    [1, 1, [0.003, 1.6, 20]],
  ];
  // At 2.5 mm the 30 cm disc has 8600 vertices and takes minutes: the 24 cm one stands for it.
  for (const [length, bend, sizes] of [
    [0.3, 1e-5, [0.005]],
    [0.24, 4e-6, SIZES],
  ] as const) {
    const spread = bar(`drape coefficient, ${100 * length} cm disc, spread over mesh, start and steps`, [5, 3], 'points');
    const means = sizes.map((mesh, size) => {
      const got = VARIED.map(([coarser, seed, steps]) => {
        const [dt, grow, cap] = steps;
        const r = drape({ sheet: isotropic(0.2, bend, 3e3), mesh: mesh * coarser, seed, length, steps: { dt, grow, cap: cap / 1000 } });
        const reading = settledOr(r, r.reading);
        const shown = Number.isNaN(reading) ? `not settled, residual ${r.residual.toExponential(0)}` : reading.toFixed(1);
        line(
          `${100 * length} cm`,
          bend.toExponential(0),
          (1000 * mesh * coarser).toPrecision(3),
          String(seed),
          `${dt}, ${grow}, ${cap}`,
          shown,
          String(r.more.folds),
          String(r.vertices),
        );
        return reading;
      });
      spread(size as 0 | 1, Math.max(...got) - Math.min(...got), `${100 * length} cm`);
      return got.reduce((sum, v) => sum + v, 0) / got.length;
    });
    if (means.length > 1) console.log(`\nMean at 2.5 mm less mean at 5 mm, ${100 * length} cm: ${fixed(means[1] - means[0], 1)} points.`);
    else spread(1, Number.NaN, 'not run');
  }
}
