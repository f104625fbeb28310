// The bars of accuracy against exact shapes, as tables: npm run bench:accuracy. Nothing here is timed or gated; the standards tests gate.
// Ends with one line per bar, met or missed.

import { createSystem, settle } from '../../src/solver/index.ts';
import { forces } from '../../src/solver/system.ts';
import { drape } from '../../src/swatch/drape.ts';
import { isotropic, type Sheet, swatchTest } from '../../src/swatch/index.ts';
import { type MeshKind, sheetModel } from '../../src/swatch/sheet.ts';
import { cutStrip, extremeHeight, lengthFor, middleOf, place } from '../../src/swatch/strip.ts';
import table from '../data/check-values.json';
import { plates } from '../solver/sheets.ts';
import { rectangle, sag } from '../standards/flat-plate.ts';

const KINDS: readonly MeshKind[] = ['structured', 'equilateral', 'irregular'];
const SIZES = [0.005, 0.0025];
const SEEDS = [1, 2, 3];
const WEIGHT = 0.34;
const G = 9.80665;
const D = 1e-4;

const head = (...cells: string[]) => {
  console.log(`| ${cells.join(' | ')} |`);
  console.log(`|${cells.map(() => '---').join('|')}|`);
};
const line = (...cells: string[]) => console.log(`| ${cells.join(' | ')} |`);
const fixed = (v: number, digits: number) => (Number.isFinite(v) ? `${v >= 0 ? '+' : ''}${v.toFixed(digits)}` : 'not settled');

/** The figure furthest from zero over the seeds of an irregular mesh; NaN when one did not settle. */
const worst = (kind: MeshKind, error: (seed: number) => number): number => {
  const all = (kind === 'irregular' ? SEEDS : [1]).map(error);
  return all.some((e) => !Number.isFinite(e)) ? Number.NaN : all.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a), 0);
};

/** One cell "5 mm / 2.5 mm". */
const pair = (kind: MeshKind, digits: number, error: (mesh: number, seed: number) => number, note?: (size: 0 | 1, error: number) => void): string =>
  SIZES.map((mesh, i) => {
    const off = worst(kind, (seed) => error(mesh, seed));
    note?.(i as 0 | 1, off);
    return fixed(off, digits);
  }).join(' / ');

/** The furthest off of each bar's figures at 5 and at 2.5 mm; NaN once one did not settle. */
const bars = new Map<string, { worst: [number, number]; where: [string, string]; at: readonly [number, number]; unit: string; plain: [number, number] }>();
function bar(name: string, at: readonly [number, number], unit: string): (size: 0 | 1, error: number, where: string, arcs?: boolean) => void {
  const entry = { worst: [0, 0] as [number, number], where: ['', ''] as [string, string], at, unit, plain: [0, 0] as [number, number] };
  bars.set(name, entry);
  return (size, error, where, arcs = true) => {
    const off = Math.abs(error);
    const list = arcs ? entry.worst : entry.plain;
    if (Number.isNaN(list[size]) || off <= list[size]) return;
    list[size] = off;
    if (arcs) entry.where[size] = where;
  };
}

const settledOr = (r: { status: string }, value: number): number => (r.status === 'settled' ? value : Number.NaN);

console.log('\n### Cantilever at w L^3/B = 8.0042: chord angle less 41.5, deg, at 5 / 2.5 mm. Bars 0.5 / 0.1. Irregular: worst of 3 seeds');
console.log('Strip 25 mm wide, D = 1e-4 N*m (4:1: 2e-4, 5e-5), w = 0.34 g. "arcs": arc-corrected edges; "plain": constant-strain triangles.');
console.log('4:1 cut at 45 deg twists, and its clamp holds it from twisting: compared with the same strip at 1.25 mm, structured, arcs.\n');
head('sheet', 'C, N/m', 'cut', 'cure', ...KINDS);
const chord = bar('cantilever chord at 41.5 deg, all but the next line', [0.5, 0.1], 'deg');
const twisting = bar('the same, 4:1 cut at 45 deg, against our own 1.25 mm mesh', [0.5, 0.1], 'deg');
const four = (C: number): Sheet => ({ arealMass: WEIGHT, bending: [2 * D, D / 2, 0, D / 2], inPlane: [2 * C, C / 2, 0, C / 2] });
for (const [name, sheetOf] of [
  ['isotropic', (C: number) => isotropic(WEIGHT, D, C)],
  ['4:1', four],
] as const)
  for (const C of [5e2, 5e3, 5e4])
    for (const cut of [0, 45, 90]) {
      if (C === 5e2 && cut !== 0) continue;
      const sheet = sheetOf(C);
      const angle = (cut * Math.PI) / 180;
      const read = (mesh: number, kind: MeshKind, seed: number, arcs: boolean) => {
        const r = swatchTest('cantilever', { sheet, mesh, kind, seed, formulation: arcs ? 'arc-corrected' : 'plain', cut: angle });
        return settledOr(r, r.reading);
      };
      const want = name === '4:1' && cut === 45 ? read(0.00125, 'structured', 1, true) : 41.5;
      for (const arcs of [true, false])
        line(
          want === 41.5 ? name : `${name} (${want.toFixed(2)} deg)`,
          C.toExponential(0),
          String(cut),
          arcs ? 'arcs' : 'plain',
          ...KINDS.map((kind) =>
            pair(
              kind,
              2,
              (mesh, seed) => read(mesh, kind, seed, arcs) - want,
              (size, error) => (want === 41.5 ? chord : twisting)(size, error, `${name}, C ${C.toExponential(0)}, cut ${cut}, ${kind}`, arcs),
            ),
          ),
        );
    }

console.log('\n### Standing strip: critical height against Greenhill, %, at 5 / 2.5 mm. Bars 0.25 / 0.05\n');
head('strip', 'C, N/m', ...KINDS);
for (const length of [0.0617, 0.1]) {
  const greenhill = bar(`standing strip of ${(1000 * length).toFixed(0)} mm, critical height`, [0.25, 0.05], '%');
  for (const C of [5e3, 5e4])
    line(
      `${(1000 * length).toFixed(0)} mm`,
      C.toExponential(0),
      ...KINDS.map((kind) =>
        pair(
          kind,
          3,
          (mesh, seed) => {
            const r = swatchTest('standing', { sheet: isotropic(WEIGHT, (WEIGHT * G * length ** 3) / 7.83735, C), mesh, kind, seed });
            return settledOr(r, (100 * (r.error ?? Number.NaN)) / (r.theory ?? 1));
          },
          (size, error) => greenhill(size, error, `C ${C.toExponential(0)}, ${kind}`),
        ),
      ),
    );
}

console.log('\n### Loops of 200 mm, C = 5e4: height against the exact elastica, % of height, at 5 / 2.5 mm. Bars 1.2 / 0.4\n');
head('loop', 'K', 'cure', ...KINDS);
const loops = bar('heart, ring, pear loops, K = 5 .. 400, C = 5e4, height', [1.2, 0.4], '%');
for (const loop of ['heart', 'ring', 'pear'] as const)
  for (const K of [5, 20, 40, 100, 200, 400])
    for (const arcs of [true, false])
      line(
        loop,
        String(K),
        arcs ? 'arcs' : 'plain',
        ...KINDS.map((kind) =>
          pair(
            kind,
            2,
            (mesh, seed) => {
              if (seed > 2) return 0;
              const r = swatchTest(loop, {
                sheet: isotropic(WEIGHT, (WEIGHT * G * 0.008) / K, 5e4),
                length: 0.2,
                mesh,
                kind,
                seed,
                formulation: arcs ? 'arc-corrected' : 'plain',
              });
              return settledOr(r, (100 * (r.error ?? Number.NaN)) / (r.theory ?? 1));
            },
            (size, error) => loops(size, error, `${loop}, K ${K}, ${kind}`, arcs),
          ),
        ),
      );

console.log('\n### Energy of an imposed curvature over its exact value, least .. most over 12 directions. Bar 1.000 +- 0.001');
console.log('A 100 x 60 mm sheet, all edges clamped to the surface, radius 10 m, 4:1.\n');
const energy = bar('energy of an imposed curvature, any direction', [0.001, 0.001], 'of 1');
head('surface', 'h, mm', ...KINDS);
for (const [name, k1, k2] of [
  ['cylinder', 0.1, 0],
  ['saddle', 0.1, -0.1],
  ['sphere', 0.1, 0.1],
] as const)
  for (const mesh of SIZES)
    line(
      name,
      String(1000 * mesh),
      ...KINDS.map((kind) => {
        const ratios = Array.from({ length: 12 }, (_, i) => curved(kind, mesh, k1, k2, (i * Math.PI) / 12));
        for (const ratio of ratios) energy(mesh === SIZES[0] ? 0 : 1, ratio - 1, `${name}, ${kind}`);
        return `${Math.min(...ratios).toFixed(5)} .. ${Math.max(...ratios).toFixed(5)}`;
      }),
    );

/** Bending energy of a flat sheet put on z = k : xx/2, principal curvatures k1 k2 turned by `turn`, over A/2 k:D:k. */
function curved(kind: MeshKind, mesh: number, k1: number, k2: number, turn: number): number {
  const sheet: Sheet = { arealMass: 0.3, bending: [2e-4, 5e-5, 2e-5, 4e-5], inPlane: [5e3, 5e3, 0, 2.5e3] };
  const s = cutStrip({ sheet, length: 0.1, width: 0.06, mesh, kind });
  const [c, n] = [Math.cos(turn), Math.sin(turn)];
  const [xx, yy, xy] = [k1 * c * c + k2 * n * n, k1 * n * n + k2 * c * c, (k1 - k2) * c * n];
  const x = place(s, (u, v) => [u, v, 0.5 * (xx * u * u + 2 * xy * u * v + yy * v * v)]);
  const outline = s.mesh.outlines[0];
  const clamps = Object.values(outline).map((edge) => ({
    verts: edge.verts,
    direction: (a: number, b: number) => {
      const [u, v] = [(s.flat[2 * a] + s.flat[2 * b]) / 2, (s.flat[2 * a + 1] + s.flat[2 * b + 1]) / 2];
      const normal = [-(xx * u + xy * v), -(xy * u + yy * v), 1];
      const e = [0, 1, 2].map((k) => x[3 * b + k] - x[3 * a + k]);
      const d = [e[1] * normal[2] - e[2] * normal[1], e[2] * normal[0] - e[0] * normal[2], e[0] * normal[1] - e[1] * normal[0]];
      // Away from the sheet: edges may run either way round.
      const out = d[0] * (u - 0.05) + d[1] * (v - 0.03) > 0 ? 1 : -1;
      const l = out * Math.hypot(...d);
      return [d[0] / l, d[1] / l, d[2] / l] as const;
    },
  }));
  const sys = createSystem(sheetModel(s.mesh, sheet, 0, clamps));
  const { bend } = forces(sys, x, new Float64Array(x.length), 'arc-corrected');
  const [d11, d22, d12, d66] = sheet.bending;
  return bend / (0.5 * 0.006 * (d11 * xx * xx + d22 * yy * yy + 2 * d12 * xx * yy + d66 * 4 * xy * xy));
}

// The rows' tolerances are the bars of the tests at 5 mm; no second figure is set for 2.5 mm, where the same is asked.
const values = (pattern: RegExp) =>
  table.entries
    .filter((r) => pattern.test(r.id))
    .map((r) => ({ id: r.id, value: r.value as number, tail: Number(r.id.replace(/^[a-z]+_/, '')), detail: ('detail' in r ? r.detail : '') as string }));
const figure = (text: string, name: string): number => Number(new RegExp(`${name} (-?[\\d.]+)`).exec(text)?.[1]);
/** A sheet whose strip of 200 mm carries the load w L^3/B = K. */
const ofLoad = (K: number): Sheet => isotropic(WEIGHT, (WEIGHT * G * 0.008) / K, 5e3);

console.log('\n### Check values of strips of 200 mm, C = 5e3: worst error over the rows, at 5 / 2.5 mm, irregular mesh\n');
head('rows', 'read', 'bar', '5 / 2.5 mm', 'worst at');
function family(name: string, read: string, limit: number, unit: string, errors: (mesh: number) => readonly (readonly [id: string, error: number])[]): void {
  const note = bar(`${name}: ${read}`, [limit, limit], unit);
  const cells = SIZES.map((mesh, i) => {
    let [off, at] = [0, ''];
    for (const [id, error] of errors(mesh)) {
      note(i as 0 | 1, error, id);
      if (!(Math.abs(error) <= Math.abs(off))) [off, at] = [error, id];
    }
    return [fixed(off, 3), at];
  });
  line(name, `${read}, ${unit}`, String(limit), cells.map((c) => c[0]).join(' / '), cells.map((c) => c[1]).join(' / '));
}
family('strip under its own weight, K = 0.1 .. 125', 'drop and reach', 1, '% of L', (mesh) =>
  values(/^unif_/).flatMap((r) => {
    const t = swatchTest('cantilever', { sheet: ofLoad(r.tail), length: 0.2, mesh });
    return [
      [r.id, settledOr(t, 100 * (t.more.drop - r.value))],
      [r.id, settledOr(t, 100 * (t.more.reach - figure(r.detail, 'x_tip/L')))],
    ] as const;
  }),
);
family('weight at the tip (Bisshopp and Drucker), P L^2/B = 0.1 .. 20', 'drop and reach', 1, '% of L', (mesh) =>
  values(/^tip_/).flatMap((r) => {
    const t = swatchTest('tip', { sheet: ofLoad(1), length: 0.2, mesh, tipLoad: r.tail, weightless: true });
    return [
      [r.id, settledOr(t, 100 * (t.reading - r.value))],
      [r.id, settledOr(t, 100 * (t.more.reach - figure(r.detail, 'x_tip/L')))],
    ] as const;
  }),
);
family('tube on a table, K = 1 .. 120', 'height', 1, '% of D', (mesh) =>
  values(/^sring_/).map((r) => {
    const t = swatchTest('tube', { sheet: ofLoad(r.tail), length: 0.2, mesh });
    return [r.id, settledOr(t, 100 * (t.reading - r.value))] as const;
  }),
);
family('tube with a flat patch, K = 150 .. 1000', 'height', 2, '% of D', (mesh) =>
  values(/^sringf_/).map((r) => {
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
  values(/^cat_/).flatMap((r) => {
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
console.log(`\nStrip of the first table: ${(1000 * lengthFor(isotropic(WEIGHT, D, 5e3), 8.0042)).toFixed(1)} mm long.`);

console.log('\n### Bars, worst figures at 5 / 2.5 mm. "Before": the same without arc-corrected edges, where it was run\n');
head('test', 'before', 'now', 'bar', '', 'worst at');
for (const [name, b] of bars) {
  const digits = b.unit === 'of 1' ? 5 : 2;
  const show = (v: readonly number[]) => v.map((e) => (Number.isFinite(e) ? e.toFixed(digits) : '-')).join(' / ');
  // A dash where nothing was run; a figure that is none (not settled) misses.
  const met = b.worst.map((e, i) => e <= b.at[i] || b.where[i] === 'not run');
  line(
    `${name}, ${b.unit}`,
    b.plain[0] === 0 ? '-' : show(b.plain),
    show(b.worst),
    b.at.join(' / '),
    met.every(Boolean) ? 'met' : `missed at ${met[0] ? '2.5 mm' : met[1] ? '5 mm' : 'both'}`,
    [...new Set(b.where)].join('; '),
  );
}
