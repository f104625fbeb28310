import { describe, expect, it } from 'vitest';
import { acrossKnots } from '../../src/panels/seams.ts';
import type { Draft } from '../../src/panels/types.ts';
import { backpack, boxTote, bucket, flatTote, furnishedTote, gatheredTote, satchel, sewn } from '../mesh/bags.ts';

/** "front.left+ front.bottom+ | gusset.bottom-": the runs of a seam in pairing order, + along the outline, - against it. */
function read(draft: Draft, name: string): string {
  const seam = draft.seams.find((s) => s.name === name)!;
  return seam.sides
    .map((side) => side.runs.map((r) => `${draft.panels[r.panel].name}.${draft.panels[r.panel].edges[r.edge].name}${r.forward ? '+' : '-'}`).join(' '))
    .join(' | ');
}

const rectangle = (w: number, h: number) => ({ rectangle: { width: `${w} mm`, height: `${h} mm` } });

describe('seam directions found from the bag', () => {
  it('two panels face out run against each other, on every seam of a box', () => {
    const { draft } = boxTote();
    for (const seam of draft.seams) {
      expect(seam.faceFlips).toBe(false);
      expect(seam.reversed).toBe(true);
      expect(seam.ratio).toBe(1);
    }
  });

  it('a gusset runs against the chain of edges it goes round, a flap against the edge it hangs on', () => {
    const { draft } = satchel();
    expect(read(draft, 'A')).toBe('front.left+ front.left-bottom+ front.bottom+ front.bottom-right+ front.right+ | gusset.bottom-');
    expect(read(draft, 'C')).toBe('back.top+ | flap.bottom-');
  });

  it('a chain written the other way round is still sewn corner to corner', () => {
    const { draft } = sewn(
      { front: { ...rectangle(300, 200), open: ['top'] }, back: { ...rectangle(300, 200), open: ['top'] } },
      {
        A: {
          join: [
            ['front.left', 'front.bottom', 'front.right'],
            ['back.left', 'back.bottom', 'back.right'],
          ],
        },
      },
    );
    expect(read(draft, 'A')).toBe('front.left+ front.bottom+ front.right+ | back.right- back.bottom- back.left-');
    expect(draft.seams[0].knots.length).toBe(4);
  });

  it('walls named in a chain, in either order, follow the base round', () => {
    for (const walls of [
      ['front.bottom', 'right.bottom', 'back.bottom', 'left.bottom'],
      ['front.bottom', 'left.bottom', 'back.bottom', 'right.bottom'],
    ]) {
      const side = { role: 'side', ...rectangle(100, 240), open: ['top'] };
      const { draft } = sewn(
        {
          front: { ...rectangle(300, 240), open: ['top'] },
          back: { ...rectangle(300, 240), open: ['top'] },
          left: side,
          right: side,
          base: rectangle(300, 100),
        },
        {
          A: { join: [['base.bottom', 'base.right', 'base.top', 'base.left'], walls] },
          E: { join: ['front.right', 'right.left'] },
          F: { join: ['right.right', 'back.left'] },
          G: { join: ['back.right', 'left.left'] },
          H: { join: ['left.right', 'front.left'] },
        },
      );
      expect(read(draft, 'A')).toBe('base.bottom+ base.right+ base.top+ base.left+ | front.bottom- left.bottom- back.bottom- right.bottom-');
    }
  });

  it('a tube closes on itself, and its hoop runs against the base', () => {
    const { draft } = bucket();
    expect(read(draft, 'A')).toBe('body.left+ | body.right-');
    expect(read(draft, 'B')).toBe('base.rim1+ base.rim2+ base.rim3+ base.rim4+ | body.bottom-');
  });

  it('two half zips meet the gusset end in the order written', () => {
    const { draft } = backpack();
    expect(read(draft, 'E')).toBe('gusset.right+ | zip front.left- zip back.right-');
  });

  it('a pocket as third layer runs with the wall it lies on', () => {
    const { draft } = furnishedTote();
    expect(read(draft, 'P')).toBe('pocket.right+ | front.right+');
    expect(read(draft, 'A+2')).toBe('front.bottom+ | pocket.bottom+');
  });

  it('a stated direction is kept: along makes a half turn', () => {
    const { draft } = sewn({ a: rectangle(100, 50), b: rectangle(100, 50) }, { A: { join: ['a.right', 'b.left'], direction: 'along' } });
    expect(read(draft, 'A')).toBe('a.right+ | b.left+');
    expect(draft.seams[0].faceFlips).toBe(true);
    expect(draft.seams[0].inferred).toBe(false);
  });
});

describe('seam lengths', () => {
  it.each([
    [330, 254, 50],
    [300, 240, 1],
    [200, 400, 99],
  ])('gusset of %i x %i mm, R %f: W + 2H - (4 - pi) R to 1e-9 m', (W, H, R) => {
    const { draft } = satchel(W, H, 100, R, false);
    const around = draft.seams[0].sides[0].length;
    const expected = (W + 2 * H - (4 - Math.PI) * R) / 1000;
    console.log(`edges left + bottom + right ${around} m, expected ${expected} m, tolerance 1e-9 (each corner saves (2 - pi/2) R; trade.md)`);
    expect(Math.abs(around - expected)).toBeLessThan(1e-9);
    expect(draft.seams[0].ratio).toBeCloseTo(1, 9);
  });

  it('round base: rim pi d to 1e-12 m; gathers have the ratio of their lengths', () => {
    expect(Math.abs(bucket(180).draft.seams[1].sides[0].length - Math.PI * 0.18)).toBeLessThan(1e-12);
    for (const ratio of [1.5, 2, 3]) {
      const seam = gatheredTote(380, 100, 90, 260, ratio).draft.seams[2];
      expect(seam.ratio).toBeCloseTo(ratio, 12);
      expect(seam.longer).toBe(1);
    }
  });

  it('corners within 3 mm or 1 % are matched, and places between them go by equal shares', () => {
    const { draft } = sewn(
      { a: rectangle(300, 200), b: rectangle(302, 199), c: rectangle(702, 50) },
      {
        A: {
          join: [
            ['a.left', 'a.bottom', 'a.right'],
            ['b.left', 'b.bottom', 'b.right'],
          ],
        },
      },
    );
    const { knots, sides } = draft.seams[0];
    expect(knots.length).toBe(4);
    expect(knots[1][0]).toBeCloseTo(200 / 700, 12);
    expect(knots[1][1]).toBeCloseTo(199 / 700, 12);
    expect(acrossKnots(knots, 100 / 700, 0)).toBeCloseTo(99.5 / 700, 12);
    expect(sides[1].length).toBeCloseTo(0.7, 12);
  });

  it('parts of an edge count with their share', () => {
    const { draft } = sewn({ a: rectangle(300, 200), b: rectangle(75, 50) }, { A: { join: ['a.top[25%..50%]', 'b.bottom'] } });
    const [a, b] = draft.seams[0].sides;
    expect(a.length).toBeCloseTo(0.075, 12);
    expect(b.length).toBeCloseTo(0.075, 12);
    expect(a.runs[0].from).toBeCloseTo(0.25, 12);
  });

  it('flat tote: three matched runs a side', () => {
    expect(flatTote().draft.seams[0].knots).toHaveLength(4);
  });
});
