import { describe, expect, it } from 'vitest';
import { parseBag } from '../../src/bag/index.ts';
import { rimOf } from '../../src/measures/index.ts';
import { prepare, previewBag } from '../../src/run/index.ts';

const [W, H, D] = [280, 220, 110];
const EDGE = 0.02;
/** Four walls sewn round, with a base panel or open at both ends. */
const walls = (base: boolean, stance: object) =>
  parseBag({
    slumpline: 1,
    name: 'four walls',
    panels: {
      front: { rectangle: { width: `${W} mm`, height: `${H} mm` }, open: base ? ['top'] : ['top', 'bottom'] },
      back: { copy: 'front', open: base ? ['top'] : ['top', 'bottom'] },
      'left side': { rectangle: { width: `${D} mm`, height: `${H} mm` }, open: base ? ['top'] : ['top', 'bottom'] },
      'right side': { copy: 'left side', open: base ? ['top'] : ['top', 'bottom'] },
      ...(base ? { base: { rectangle: { width: `${W} mm`, height: `${D} mm` } } } : {}),
    },
    seams: {
      a: ['front.right', 'right side.left'],
      b: ['right side.right', 'back.left'],
      c: ['back.right', 'left side.left'],
      d: ['left side.right', 'front.left'],
      ...(base
        ? { e: ['base.bottom', 'front.bottom'], f: ['base.left', 'right side.bottom'], g: ['base.top', 'back.bottom'], h: ['base.right', 'left side.bottom'] }
        : {}),
    },
    stacks: { cloth: { mass: '459 g/m2', D11: '9 mN.m', D22: '9 mN.m', D66: '4.5 mN.m', C11: '20 kN/m', C22: '20 kN/m', C66: '10 kN/m' } },
    stances: { here: { kind: 'standing', ...stance } },
  });

describe('a tube of four walls without a base', () => {
  it('whose rim is its upper end: height 220 mm, not the 110 mm of both ends together', () => {
    const scene = prepare(walls(false, {}), { edgeLength: EDGE });
    const rim = rimOf(scene.bag, scene.mesh, scene.drafted)!;
    const lowest = Math.min(...Array.from(rim.verts, (v) => scene.drafted[3 * v + 2]!));
    expect(lowest, 'lowest drafted point of the rim, m').toBeGreaterThan(0.2199);
    expect(rim.weights.reduce((s, w) => s + w, 0)).toBeCloseTo(2 * (W + D) * 1e-3, 9);
  });
  it.each(['hinged', 'glued'])(
    'with its base line %s starts from the drafted line, stuffed or pressed in: nothing held is moved, and the walls are stuffed by 4 mm',
    (base) => {
      const { model, drafted, start, inward: pressed, mesh } = prepare(walls(false, { base }), { edgeLength: EDGE });
      const inward = pressed();
      let [held, most] = [0, 0];
      for (let v = 0; v < mesh.vertexCount; v++) {
        const moved = Math.max(...[start, inward].map((x) => Math.hypot(...[0, 1, 2].map((k) => x[3 * v + k]! - drafted[3 * v + k]!))));
        if (model.held[v] === 1) {
          held++;
          expect(moved, `held point ${v}, m`).toBe(0);
        } else most = Math.max(most, moved);
      }
      expect(held).toBe(2 * (Math.round(W / 20) + Math.round(D / 20)));
      expect(most).toBeGreaterThan(0.0036);
      expect(most).toBeLessThan(0.0046);
    },
  );
  it('hinged at its base line on a table that slopes by 20 deg sags as far as the same walls on a hinged base panel do: within 0.1 %', () => {
    const out = [false, true].map((base) => {
      const { runs, mesh, drafted } = previewBag(walls(base, { base: 'hinged', tilt: '20 deg', toward: 'front' }), {
        edgeLength: EDGE,
        bands: ['mid'],
        skipNudge: true,
      });
      expect(runs[0]!.status).toBe('settled');
      const { verts } = mesh.panelVerts[0]!;
      return Math.max(...Array.from(verts, (v) => drafted[3 * v + 1]! - runs[0]!.positions[3 * v + 1]!));
    });
    console.log(`front wall's bulge ${out.map((b) => (1e3 * b).toFixed(3)).join(', ')} mm without and with a base panel`);
    expect(Math.abs(out[0]! / out[1]! - 1)).toBeLessThan(1e-3);
  });
});
