import { createSystem } from '../../src/solver/index.ts';
import { forces } from '../../src/solver/system.ts';
import { isotropic, type Sheet, swatchTest } from '../../src/swatch/index.ts';
import { type MeshKind, sheetModel } from '../../src/swatch/sheet.ts';
import { cutStrip, lengthFor, place } from '../../src/swatch/strip.ts';
import { bar, D, G, head, KINDS, line, pair, SIZES, settledOr, WEIGHT } from './accuracy-table.ts';

/** Cantilever, standing strip, loops, energy of an imposed curvature. */
export function strips(): void {
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

  console.log(`\nStrip of the first table: ${(1000 * lengthFor(isotropic(WEIGHT, D, 5e3), 8.0042)).toFixed(1)} mm long.`);
}

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
