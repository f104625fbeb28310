/** The solver against a general-purpose shell finite-element program on sheets whose warp is not along the strip: they twist, and a half-held square curves both ways. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { settle } from '../../src/solver/index.ts';
import { type MeshKind, type Sheet, sheetModel } from '../../src/swatch/sheet.ts';
import { cutStrip, place } from '../../src/swatch/strip.ts';

interface Case {
  readonly name: string;
  readonly length: number;
  readonly width: number;
  readonly warpDeg: number;
  readonly points: readonly { readonly at: readonly [number, number]; readonly moved: readonly number[]; readonly coarser: readonly number[] }[];
}

const { about, cases } = JSON.parse(readFileSync(new URL('../data/calculix/results.json', import.meta.url), 'utf8')) as {
  about: { program: string; sheet: Sheet };
  cases: readonly Case[];
};
const KINDS: readonly MeshKind[] = ['structured', 'equilateral', 'irregular'];
const apart = (a: readonly number[], b: readonly number[]): number => Math.hypot(...a.map((v, k) => v - b[k]));

/** Movements of the corners (points that every mesh has), m, and what the settle said. */
function moved(c: Case, kind: MeshKind, mesh: number) {
  const s = cutStrip({ sheet: about.sheet, length: c.length, width: c.width, mesh, kind, cut: (-c.warpDeg * Math.PI) / 180 });
  const half = c.name.startsWith('square') ? s.first.filter((v) => s.flat[2 * v + 1] <= c.width / 2 + 1e-9) : s.first;
  const model = sheetModel(s.mesh, about.sheet, s.warp, [{ verts: half, direction: () => [-1, 0, 0] }]);
  const state = settle(
    model,
    place(s, (u, v) => [u, v, 0]),
  );
  const corners = c.points.filter(({ at: [u, v] }) => (u === 0 || u === 1) && (v === 0 || v === 1));
  return {
    status: state.status,
    corners: corners.map((p) => {
      const [u, v] = [p.at[0] * c.length, p.at[1] * c.width];
      const i = Array.from({ length: s.mesh.vertexCount }, (_, k) => k).find((k) => Math.hypot(s.flat[2 * k] - u, s.flat[2 * k + 1] - v) < 1e-9) as number;
      return { ...p, got: [state.x[3 * i] - u, state.x[3 * i + 1] - v, state.x[3 * i + 2]] };
    }),
  };
}

const say = (c: Case, kind: MeshKind, mesh: number, corners: ReturnType<typeof moved>['corners']): string =>
  `${c.name} ${kind} ${1e3 * mesh} mm: ${corners.map((p) => `corner ${p.at} ${((100 * apart(p.got, p.moved)) / c.length).toFixed(2)} % of the side off (reference to ${((100 * apart(p.moved, p.coarser)) / c.length).toFixed(2)} %)`).join(', ')}; ${about.program}`;
const named = (start: string) => cases.filter((c) => c.name.startsWith(start)).map((c) => [c.name, c] as const);
/** How far the reference itself may be off: what it moved between its last two meshes. */
const doubt = (p: Case['points'][number]): number => apart(p.moved, p.coarser);

describe(`a strip of 80 x 25 mm, 4:1, cut at 0, 30 and 45 deg, against ${about.program}`, () => {
  // The bar is the lower figure of "1-2 % (solver)", which the rows of the hanging strip (unif_*) ask of its tip. The further figures are shown.
  it.each(named('strip'))('%s: both tip corners within 1 percent of the length at 5 mm, nearer at 2.5 mm', (_, c) => {
    for (const kind of KINDS) {
      const [coarse, fine] = [0.005, 0.0025].map((mesh) => {
        const r = moved(c, kind, mesh);
        const line = say(c, kind, mesh, r.corners);
        console.log(line);
        expect(r.status, line).toBe('settled');
        return r.corners;
      });
      coarse.forEach((p, i) => {
        expect(apart(p.got, p.moved), say(c, kind, 0.005, coarse)).toBeLessThan(0.01 * c.length);
        expect(apart(fine[i].got, p.moved), say(c, kind, 0.0025, fine)).toBeLessThan(apart(p.got, p.moved) + doubt(p));
      });
    }
  });

  it('cut at 30 and 45 deg it twists to the side that shell theory says, and the twist comes closer from 5 to 2.5 mm; cut at 0 it does not twist', () => {
    for (const [, c] of named('strip'))
      for (const kind of KINDS) {
        const want = c.points.filter((p) => p.at[0] === 1 && (p.at[1] === 0 || p.at[1] === 1)).map((p) => p.moved[2]);
        const ref = want[1] - want[0];
        const [coarse, fine] = [0.005, 0.0025].map((mesh) => {
          const [a, b] = moved(c, kind, mesh).corners;
          return b.got[2] - a.got[2];
        });
        const line = `${c.name} ${kind}: tip corners differ in height by ${(1e3 * coarse).toFixed(3)}, ${(1e3 * fine).toFixed(3)} mm at 5, 2.5 mm; reference ${(1e3 * ref).toFixed(3)} mm; ${about.program}`;
        console.log(line);
        if (Math.abs(ref) < 1e-6) {
          // One-way diagonals are not symmetric across the strip: what they twist goes with the square of the edge.
          expect(Math.abs(fine), line).toBeLessThanOrEqual(Math.max(1e-5, Math.abs(coarse)));
          continue;
        }
        expect(Math.sign(coarse), line).toBe(Math.sign(ref));
        expect(Math.sign(fine), line).toBe(Math.sign(ref));
        expect(Math.abs(fine - ref), line).toBeLessThan(Math.abs(coarse - ref));
      }
  });
});

describe(`a square of 80 mm held along half of one edge, against ${about.program}`, () => {
  // The end of the clamp is a singular point: both programs close in on each other only in proportion to the edge length, from opposite sides. The bar
  // is that of plates, "within 1-2 % where the mesh is fine", taken at 64 edges a side; 5 and 2.5 mm are shown, and gated by coming closer.
  it.each(named('square'))('%s: free corners come closer from 5 to 2.5 to 1.25 mm, and lie within 2 percent of the side there', (_, c) => {
    const runs = [0.005, 0.0025, 0.00125].map((mesh) => {
      const r = moved(c, 'structured', mesh);
      const line = say(c, 'structured', mesh, r.corners);
      console.log(line);
      expect(r.status, line).toBe('settled');
      return r.corners;
    });
    runs[0].forEach((p, i) => {
      const off = runs.map((r) => apart(r[i].got, p.moved));
      const line = `${c.name} corner ${p.at}: ${off.map((v) => (1e3 * v).toFixed(2)).join(' -> ')} mm, reference to ${(1e3 * doubt(p)).toFixed(2)} mm`;
      expect(off[2], line).toBeLessThan(0.02 * c.width);
      // Only where the coarse mesh is off by more than the reference's own doubt is there something to come closer by.
      if (off[0] <= 2 * doubt(p)) return;
      expect(off[1], line).toBeLessThan(off[0]);
      expect(off[2], line).toBeLessThan(off[1]);
    });
  });

  it('square-0 takes a double curvature: the free corner across from the clamp hangs lowest, and the held edge bends down beside its clamp (both programs)', () => {
    const c = cases.find((q) => q.name === 'square-0') as Case;
    for (const kind of KINDS) {
      const r = moved(c, kind, 0.0025);
      const z = (u: number, v: number) => r.corners.find((p) => p.at[0] === u && p.at[1] === v)?.got[2] as number;
      const ref = (u: number, v: number) => c.points.find((p) => p.at[0] === u && p.at[1] === v)?.moved[2] as number;
      const line = `${kind}: corners ${[z(1, 0), z(1, 1), z(0, 1)].map((v) => (1e3 * v).toFixed(1))} mm, reference ${[ref(1, 0), ref(1, 1), ref(0, 1)].map((v) => (1e3 * v).toFixed(1))}`;
      console.log(line);
      expect(z(1, 1), line).toBeLessThan(z(1, 0));
      expect(z(1, 1), line).toBeLessThan(z(0, 1));
      expect(z(0, 1), line).toBeLessThan(0);
      expect(ref(1, 1), line).toBeLessThan(Math.min(ref(1, 0), ref(0, 1)));
      expect(ref(0, 1), line).toBeLessThan(0);
    }
  });
});
