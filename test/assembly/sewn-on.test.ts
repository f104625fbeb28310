import { describe, expect, it } from 'vitest';
import { lengthInside, sharedArea } from '../../src/assembly/overlap.ts';
import { sewnOn } from '../../src/assembly/sewn-on.ts';
import { parseBag } from '../../src/bag/index.ts';
import type { Four } from '../../src/bag/types.ts';
import { settleBag } from '../../src/index.ts';
import { layUp, sewnLayers } from '../../src/material/index.ts';
import { meshPanels } from '../../src/mesh/mesh-panels.ts';
import { flatArea } from '../../src/mesh/types.ts';
import { draftPanels } from '../../src/panels/draft-panels.ts';
import { GRAVITY } from '../../src/units/index.ts';

const D = 0.05;
const LENGTH = 0.16;
const MASS = 0.4;
const sheet = (d: number, nu: number, mass = '400 g/m2') => ({
  mass,
  thickness: '1 mm',
  D11: `${d} N.m`,
  D22: `${d} N.m`,
  D12: `${d * nu} N.m`,
  D66: `${(d * (1 - nu)) / 2} N.m`,
  C11: '50 kN/m',
  C22: '50 kN/m',
  C66: '25 kN/m',
});
/** Panels that jut out level from a clamp along their bottom edges, 160 mm long; `wide` and their x, m. */
const shelf = (wide: number, x = 0, more: object = {}) => ({
  rectangle: { width: `${wide} m`, height: `${LENGTH} m` },
  clips: [{ edge: 'bottom', slope: true }],
  pose: { origin: [0, `${-x} m`, '300 mm'], x: [0, -1, 0], y: [1, 0, 0] },
  ...more,
});
const file = (panels: object, ratio: number, nu: number, more: object = {}) => ({
  slumpline: 1,
  panels,
  stacks: { cloth: sheet(D, nu), band: sheet(D * (ratio - 1), nu, '0.01 g/m2') },
  options: { o: { 'every panel': 'cloth' } },
  stances: { held: {} },
  ...more,
});
/** Mean droop of the far edges, m. */
function droop(written: object, edgeLength: number): number {
  const { mesh, runs } = settleBag(parseBag(written), { edgeLength, bands: ['mid'] });
  expect(runs[0].status).toBe('settled');
  let [sum, width] = [0, 0];
  for (const { top } of mesh.outlines) {
    const along = [...top.at];
    along.slice(1).forEach((a, i) => {
      sum += (a - along[i]) * (0.3 - (runs[0].positions[3 * top.verts[i] + 2] + runs[0].positions[3 * top.verts[i + 1] + 2]) / 2);
    });
    width += 1;
  }
  return sum / width;
}

describe('a strap stitched down flat', () => {
  /** Two patches of 33 mm, as wide as the strip of 25 mm, with tops 21 and 97 mm from its end. */
  const handle = { width: '25 mm', length: '90 mm', stack: 'band' };
  const end = (top: string, kind = 'box') => ({ panel: 'p', 'from left': '12.5 mm', 'from top': top, height: '33 mm', kind });
  const stepped = (ratio: number, kind?: string) =>
    file({ p: shelf(0.025) }, ratio, 0, { straps: { h: { ...handle, from: end('21 mm', kind), to: end('97 mm', kind) } } });
  const bare = (edge: number): number => droop(file({ p: shelf(0.025) }, 2, 0), edge);

  it('droops like a stepped beam (M/EI integrated piece by piece) within 0.3 % at 24, 16 and 10 mm, whose triangles know nothing of the patches', () => {
    for (const edge of [0.024, 0.016, 0.01]) {
      const plain = bare(edge);
      for (const ratio of [3, 10, 40]) {
        // Tip of a level beam under its own weight: sum of w (L - x)^3/2 dx/(E I) = (L - x)^4 w/8 between the ends of each piece.
        const upTo = (x: number): number => (LENGTH ** 4 - (LENGTH - x) ** 4) / LENGTH ** 4;
        const stiff = [0.097, 0.021].reduce((sum, top) => sum + upTo(LENGTH - top) - upTo(LENGTH - top - 0.033), 0);
        const want = 1 - stiff + stiff / ratio;
        const got = droop(stepped(ratio), edge) / plain;
        console.log(`stepped beam ${ratio} : 1 at ${edge * 1000} mm: droop ${got.toFixed(4)} of the bare strip's, statics ${want.toFixed(4)}`);
        expect(Math.abs(got / want - 1)).toBeLessThan(0.003);
      }
    }
    // The bare strip itself: w L^4/(8 E I).
    expect(Math.abs(bare(0.01) / ((MASS * GRAVITY * LENGTH ** 4) / (8 * D)) - 1)).toBeLessThan(0.01);
  });

  it.each(['row', 'rivet', 'ring loop'])('by a %s leaves the cloth as it was', (kind) => {
    const bag = parseBag(stepped(10, kind));
    const mesh = meshPanels(bag, draftPanels(bag), { edgeLength: 0.016 });
    const laminates = layUp(bag, 'o', 'mid');
    expect(sewnOn(bag, mesh, laminates, sewnLayers(bag, laminates, 'mid')).size).toBe(0);
  });

  it('in the midst of a wide sheet: droop over meshes of 24, 16, 10 and 6 mm within 2.5 % of the finest', () => {
    const patched = (straps: object) => file({ p: shelf(0.16) }, 10, 0.3, straps);
    const strap = {
      straps: {
        h: {
          width: '30 mm',
          length: '160 mm',
          stack: 'band',
          from: { panel: 'p', 'from left': '40 mm', 'from top': '110 mm', height: '30 mm' },
          to: 'mirrored',
        },
      },
    };
    const ratios = [0.024, 0.016, 0.01, 0.006].map((edge) => droop(patched(strap), edge) / droop(patched({}), edge));
    console.log(`patches in a wide sheet at 24, 16, 10, 6 mm: droop ${ratios.map((r) => r.toFixed(4)).join(', ')} of the bare sheet's`);
    for (const r of ratios) expect(Math.abs(r / ratios[3] - 1)).toBeLessThan(0.025);
    expect(ratios[3]).toBeLessThan(0.8);
  });
});

describe('rows of topstitching', () => {
  const SEAM = { join: ['p.right', 'q.left'], allowance: '10 mm' };
  const two = (wide: number, rows: object[], seam: object = SEAM) =>
    file({ p: shelf(wide, 0, { topstitch: rows }), q: shelf(wide, wide) }, 2, 0, { seams: { s: seam } });
  const added = (written: object): number => {
    const bag = parseBag(written);
    const mesh = meshPanels(bag, draftPanels(bag), { edgeLength: 0.016 });
    const laminates = layUp(bag, 'o', 'mid');
    let sum = 0;
    // Bending along the seam of the panels, y: the warp.
    for (const [t, { bending }] of sewnOn(bag, mesh, laminates, sewnLayers(bag, laminates, 'mid'))) sum += (bending[0] - D) * flatArea(mesh, t);
    return sum;
  };

  // Measured on sewn strips of many widths: (E I)s X = (E I)0 + (E I)2 X, a seam adds the same to a narrow strip and to a wide one.
  // Source: Journal of Home Economics of Japan 29 (3), 192 (1978), abstract; here (E I)0 = D x the rows' distances, two loose layers. The seam is held flat
  // (a hinge a thousand times as stiff as the cloth), so that the strip bends as one beam, as theirs did.
  it('beside a seam add D times their distance, whatever the width (seam law of 1978): droop within 0.5 % of w L^4/(8 (D X + 2 D o))', () => {
    for (const wide of [0.02, 0.03, 0.05]) {
      const rows = [{ along: 'right', offset: '6 mm' }];
      const flat = { ...SEAM, hinge: { stiffness: '50 N', rest: '0 deg' } };
      const sewn = (p: object[], q: object[]) =>
        file({ p: shelf(wide, 0, { topstitch: p }), q: shelf(wide, wide, { topstitch: q }) }, 2, 0, { seams: { s: flat } });
      const got = droop(sewn(rows, [{ along: 'left', offset: '6 mm' }]), 0.012) / droop(sewn([], []), 0.012);
      const want = wide / (wide + 0.006);
      console.log(`rows 6 mm from a seam, ${2000 * wide} mm wide: droop ${got.toFixed(4)} of that without, statics ${want.toFixed(4)}`);
      expect(Math.abs(got / want - 1)).toBeLessThan(0.005);
    }
  });

  it('hold the strip to the outermost row that catches the allowance: area times D, to 1e-9', () => {
    const per = D * LENGTH;
    for (const [rows, width] of [
      [[{ along: 'right', offset: '6 mm' }], 0.006],
      [
        [
          { along: 'right', offset: '2 mm' },
          { along: 'right', offset: '8 mm' },
        ],
        0.008,
      ],
      [[{ along: 'right[25%..75%]', offset: '6 mm' }], 0.003],
      [
        [
          { along: 'right', offset: '6 mm' },
          { along: 'right', offset: '12 mm' },
        ],
        0.006,
      ],
      // Beyond the allowance, and along an opening: nothing is held.
      [[{ along: 'right', offset: '12 mm' }], 0],
      [[{ along: 'top', offset: '6 mm' }], 0],
    ] as const)
      expect(Math.abs(added(two(0.05, [...rows])) / per - width)).toBeLessThan(1e-9);
  });

  it('beside a lapped or bound seam add nothing: its spring has the layers already', () => {
    for (const type of ['lapped', 'bound', 'fold']) expect(added(two(0.05, [{ along: 'right', offset: '6 mm' }], { ...SEAM, type }))).toBe(0);
  });

  it('add along the seam what the shell alone has that way: warp along it, weft along it, to 1e-9; mirror images alike where the grain lies askew', () => {
    const shell = { mass: '300 g/m2', thickness: '1 mm', D11: '4 mN.m', D22: '1 mN.m', D66: '1 mN.m', C11: '50 kN/m', C22: '50 kN/m', C66: '5 kN/m' };
    const along = (f: Four, angle: number): number => {
      const [c, s] = [Math.cos(angle) ** 2, Math.sin(angle) ** 2];
      return f[0] * c * c + f[1] * s * s + 2 * (f[2] + 2 * f[3]) * c * s;
    };
    const gain = (grain: number, edge: 'left' | 'right'): number => {
      const bag = parseBag({
        slumpline: 1,
        panels: {
          p: { rectangle: { width: '80 mm', height: '160 mm' }, grain: `${grain} deg`, topstitch: [{ along: edge, offset: '6 mm' }] },
          q: { copy: 'p' },
        },
        seams: { s: { join: [`p.${edge}`, `q.${edge}`], allowance: '10 mm', direction: 'against' } },
        stacks: { shell },
        options: { o: { 'every panel': 'shell' } },
      });
      const mesh = meshPanels(bag, draftPanels(bag), { edgeLength: 0.02, kind: 'structured' });
      const lams = layUp(bag, 'o', 'mid');
      let sum = 0;
      for (const [t, { bending }] of sewnOn(bag, mesh, lams, sewnLayers(bag, lams, 'mid')))
        if (mesh.triPanel[t] === 0) sum += (along(bending, (grain * Math.PI) / 180) - along(lams[0][0].bending, (grain * Math.PI) / 180)) * flatArea(mesh, t);
      return sum / (0.006 * LENGTH);
    };
    expect(gain(0, 'right')).toBeCloseTo(4e-3, 11);
    expect(gain(90, 'right')).toBeCloseTo(1e-3, 11);
    expect(gain(30, 'right')).toBeCloseTo(gain(-30, 'left'), 8);
    expect(gain(30, 'right')).toBeGreaterThan(1e-3);
    expect(gain(30, 'right')).toBeLessThan(along([4e-3, 1e-3, 0, 1e-3], Math.PI / 6));
  });

  it('count no more of a stack of layers than its first', () => {
    const stacks = { lined: ['canvas10', { fused: 'fus_heavy' }, { loose: 'lawn' }], shell: ['canvas10'] };
    const bag = parseBag(file({ p: shelf(0.05) }, 2, 0, { stacks, options: { lined: { 'every panel': 'lined' }, shell: { 'every panel': 'shell' } } }));
    const [lined, shell] = bag.options.map((o) => layUp(bag, o.name, 'high'));
    expect(sewnLayers(bag, lined, 'high').allowances[0][0].bending).toEqual(shell[0][0].bending);
  });
});

describe('what a triangle shares with a polygon', () => {
  const unit = [0, 0, 1, 0, 0, 1];
  const box = (x: number, y: number, w: number, h: number) =>
    [
      [x, y],
      [x + w, y],
      [x + w, y + h],
      [x, y + h],
    ] as const;
  it('area: whole, none, and by hand', () => {
    expect(sharedArea(box(-1, -1, 3, 3), unit)).toBeCloseTo(0.5, 15);
    expect(sharedArea(box(0.1, 0.1, 0.2, 0.3), unit)).toBeCloseTo(0.06, 15);
    expect(sharedArea(box(1, 1, 1, 1), unit)).toBe(0);
    // The triangle right of x = 0.5: legs of 0.5.
    expect(sharedArea(box(0.5, -1, 3, 3), unit)).toBeCloseTo(0.125, 15);
  });
  it('length of a border inside it; along its side is not inside', () => {
    expect(lengthInside([0.5, -1], [0.5, 2], unit)).toBeCloseTo(0.5, 7);
    expect(lengthInside([0, 0], [1, 0], unit)).toBe(0);
    expect(lengthInside([2, 0], [2, 1], unit)).toBe(0);
    expect(lengthInside([0.1, 0.2], [0.3, 0.2], unit)).toBeCloseTo(0.2, 12);
  });
});
