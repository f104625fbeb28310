import { describe, expect, it } from 'vitest';
import { type BagError, parseBag } from '../../src/bag/index.ts';
import { cornersPressed, prepare, previewBag } from '../../src/run/index.ts';
import { statedStack } from '../bag/stated-stack.ts';

/** Five panels 280 x 220 x 110 mm of 459 g/m2 and 0.7 mm; `corner`: what the four upright seams say besides what they join. */
const box = (d: number, corner: object = {}) =>
  parseBag({
    slumpline: 1,
    panels: {
      front: { rectangle: { width: '280 mm', height: '220 mm' } },
      back: { copy: 'front' },
      'left side': { rectangle: { width: '110 mm', height: '220 mm' } },
      'right side': { copy: 'left side' },
      base: { rectangle: { width: '280 mm', height: '110 mm' } },
    },
    seams: {
      a: { join: ['front.right', 'right side.left'], ...corner },
      b: { join: ['right side.right', 'back.left'], ...corner },
      c: { join: ['back.right', 'left side.left'], ...corner },
      d: { join: ['left side.right', 'front.left'], ...corner },
      e: ['base.bottom', 'front.bottom'],
      f: ['base.left', 'right side.bottom'],
      g: ['base.top', 'back.bottom'],
      h: ['base.right', 'left side.bottom'],
    },
    stacks: { cloth: statedStack(459, d, { thickness: '0.7 mm' }) },
  });
/** Different hinges of the upright seams: [N*m/rad per m, rest deg], each once. */
const hingesOf = (bag: ReturnType<typeof box>) => {
  const { mesh, model } = prepare(bag, { edgeLength: 0.05 });
  const seen = new Set<string>();
  let h = 0;
  for (let e = 0; e < mesh.edgeKind.length; e++) {
    if (model.hingeVerts[4 * h] !== mesh.edgeVerts[2 * e] || model.hingeVerts[4 * h + 1] !== mesh.edgeVerts[2 * e + 1]) continue;
    if ((mesh.edgeSeam[e] ?? -1) >= 0 && mesh.edgeSeam[e]! < 4 && Number.isFinite(model.hingeStiffness[h]))
      seen.add(`${model.hingeStiffness[h]!.toPrecision(4)} ${((Math.abs(model.hingeRest[h]!) * 180) / Math.PI).toFixed(1)}`);
    h++;
  }
  return [...seen];
};
const faultsOf = (corner: object) => {
  try {
    box(600, corner);
    return [];
  } catch (error) {
    return (error as BagError).faults.filter((f) => f.path.startsWith('seams.a')).map((f) => f.path);
  }
};

describe('how corners are pressed (estimates, src/material/pressed.ts)', () => {
  it.each([
    [{}, '0.000 0.0'],
    [{ pressed: 'open' }, '0.000 0.0'],
    [{ pressed: 'unpressed' }, '0.1200 0.0'],
    [{ pressed: 'unpressed', allowance: '6 mm' }, '0.2000 0.0'],
    [{ pressed: 'to one side' }, '0.1200 45.0'],
    [{ pressed: 'creased' }, '0.8571 90.0'],
  ])('two layers of 600 uN.m and 0.7 mm, %j: stiffness and rest angle "%s", by hand 2 D/a or 2 D/2 t', (corner, expected) => {
    expect(hingesOf(box(600, corner))).toEqual([expected]);
  });

  it('a lapped seam that is pressed, a word that is none, and both pressed and hinge are faults with their paths', () => {
    expect(faultsOf({ pressed: 'open', type: 'lapped' })).toEqual(['seams.a.pressed']);
    expect(faultsOf({ pressed: 'ironed' })).toEqual(['seams.a.pressed']);
    expect(faultsOf({ pressed: 'creased', hinge: { stiffness: '0.1 N' } })).toContain('seams.a.pressed');
  });

  it('pressing the corners of a bag creases its 4 upright seams, not those round the base, and leaves what is stated alone', () => {
    expect(cornersPressed(box(600)).seams.map((s) => s.pressed ?? '-')).toEqual(['creased', 'creased', 'creased', 'creased', '-', '-', '-', '-']);
    const stated = box(600, { pressed: 'open' });
    expect(cornersPressed(stated)).toBe(stated);
  });

  it('with D = 900 uN.m the bag does not hold sewn plain (a nudge leaves it 8 to 35 mm out of place), and holds with its corners creased: the result tells both', () => {
    const { verdict, runs } = previewBag(box(900), { bands: ['mid'], edgeLength: 0.018 }),
      { corners, nudge } = runs[0]!;
    console.log(
      `plain ${verdict.word} ${verdict.margin.toFixed(2)}, nudge leaves ${(1e3 * nudge.worstShift).toFixed(1)} mm; creased ${JSON.stringify(corners)}; ${verdict.reason}`,
    );
    expect(verdict.word).toBe('softens');
    // 12 mm on hard supports, 22 on the soft ones before them: what a nudge leaves depends on how the bag stands.
    expect(nudge.worstShift).toBeGreaterThan(0.008);
    expect(nudge.worstShift).toBeLessThan(0.035);
    expect(corners!.word).toBe('holds');
    expect(corners!.heightKept).toBeGreaterThan(0.995);
    expect(verdict.reason).toMatch(/; it depends on how the corners are pressed: to a crease it holds\.$/);
  });

  it.each([
    [50_000, 'holds'],
    [250, 'slumps'],
  ])('is not asked of %d uN.m, which %s: it holds already, or has kept less than 0.8', (d, word) => {
    const { runs, verdict } = previewBag(box(d), { bands: ['mid'], edgeLength: 0.028 });
    expect(verdict.word).toBe(word);
    expect(runs[0]).not.toHaveProperty('corners');
  });
  it('is not asked where corners is false', () => {
    expect(previewBag(box(900), { bands: ['mid'], edgeLength: 0.028, corners: false }).runs[0]).not.toHaveProperty('corners');
  });
});
