import { describe, expect, it } from 'vitest';
import { assemble } from '../../src/assembly/assemble.ts';
import { newBag, parseBag } from '../../src/bag/index.ts';
import { layUp, sewnLayers } from '../../src/material/index.ts';
import { countCrossings } from '../../src/mesh/crossings.ts';
import { meshPanels } from '../../src/mesh/mesh-panels.ts';
import { EDGE_FOLD, PART_BASE } from '../../src/mesh/types.ts';
import { draftPanels } from '../../src/panels/draft-panels.ts';
import { bulge, placePanels } from '../../src/placement/place-panels.ts';

/** Sizes in mm: W, H, D finished. */
const SIZES: readonly (readonly [string, number, number, number])[] = [
  ['boxed-tote', 381, 355.6, 101.6],
  ['boxed-tote', 300, 240, 160],
  ['drawstring-pouch', 127, 165.1, 50.8],
  ['drawstring-pouch', 220, 130, 90],
];

function start(name: string, w: number, h: number, d: number, edgeLength: number) {
  const bag = parseBag(newBag(name, { W: `${w} mm`, H: `${h} mm`, D: `${d} mm` }));
  const draft = draftPanels(bag);
  const mesh = meshPanels(bag, draft, { edgeLength });
  return { bag, draft, mesh, placed: placePanels(bag, draft, mesh) };
}

describe('boxed corners sewn up', () => {
  // Trade notes ("boxed corner: square cut-out = D/2; finished width loses D, height loses D/2"), common practice, no source.
  it.each(SIZES)(
    '%s of %f x %f x %f mm: base flat within 1 mm over W x D, height H within a hundredth, 0 crossings, edges strained under two hundredths',
    (name, w, h, d) => {
      const { bag, mesh, placed } = start(name, w, h, d, 0.016);
      const x = placed.positions;
      const [low, high] = [
        [1e9, 1e9, 1e9],
        [-1e9, -1e9, -1e9],
      ];
      for (let t = 0; t < mesh.triPanel.length; t++)
        if (mesh.triPart[t] === PART_BASE)
          for (let k = 0; k < 3; k++)
            for (let c = 0; c < 3; c++) {
              low[c] = Math.min(low[c], 1000 * x[3 * mesh.triVerts[3 * t + k] + c]);
              high[c] = Math.max(high[c], 1000 * x[3 * mesh.triVerts[3 * t + k] + c]);
            }
      const rim = Array.from(mesh.outlines[0].top.verts, (v) => 1000 * x[3 * v + 2]);
      const height = rim.reduce((sum, z) => sum + z, 0) / rim.length;
      console.log(
        `${name} ${w} x ${h} x ${d}: base z ${low[2].toFixed(3)}..${high[2].toFixed(3)} mm (within 1), ${(high[0] - low[0]).toFixed(2)} x ${(high[1] - low[1]).toFixed(2)} mm, ` +
          `rim ${height.toFixed(2)} mm (1 %), largest strain ${(100 * placed.strain.max).toFixed(4)} % (2), crossings ${placed.crossings}`,
      );
      expect(Math.max(-low[2], high[2])).toBeLessThan(1);
      expect(Math.abs(high[0] - low[0] - w)).toBeLessThan(1);
      expect(Math.abs(high[1] - low[1] - d)).toBeLessThan(1);
      expect(Math.abs(height / h - 1)).toBeLessThan(0.01);
      expect(placed.strain.max).toBeLessThan(0.02);
      expect(placed.crossings).toBe(0);
      for (const amplitude of [0.004, -0.004]) expect(countCrossings(bulge(mesh, bag, x, amplitude, 1), mesh.triVerts)).toBe(0);
    },
  );

  it('a panel that widens upward keeps its flat base: base z within 1 mm, mean strain under 1 % (its slanted side seams cannot lie flat), 0 crossings', () => {
    const half = [
      { at: [0, 0], edge: 'bottom' },
      { at: ['120 mm', 0], edge: 'cut up' },
      { at: ['120 mm', '50 mm'], edge: 'cut out' },
      { at: ['170 mm', '50 mm'], edge: 'side' },
      { at: ['210 mm', '300 mm'], edge: 'top' },
      { at: [0, '300 mm'] },
    ];
    const bag = parseBag({
      slumpline: 1,
      panels: { front: { half, open: ['top'] }, back: { copy: 'front', open: ['top'] } },
      seams: {
        bottom: ['front.bottom', 'back.bottom'],
        r: ['front.side right', 'back.side left'],
        l: ['front.side left', 'back.side right'],
        fr: ['front.cut up right', 'front.cut out right'],
        fl: ['front.cut up left', 'front.cut out left'],
        br: ['back.cut up right', 'back.cut out right'],
        bl: ['back.cut up left', 'back.cut out left'],
      },
      stacks: { s: ['canvas10'] },
    });
    const draft = draftPanels(bag);
    const mesh = meshPanels(bag, draft, { edgeLength: 0.018 });
    const { positions, strain, crossings } = placePanels(bag, draft, mesh);
    let high = 0;
    for (let t = 0; t < mesh.triPanel.length; t++)
      if (mesh.triPart[t] === PART_BASE) for (let k = 0; k < 3; k++) high = Math.max(high, positions[3 * mesh.triVerts[3 * t + k] + 2]);
    console.log(`base up to ${1000 * high} mm (1), strain mean ${100 * strain.mean} % (1), largest ${100 * strain.max} %, crossings ${crossings}`);
    expect(high).toBeLessThan(0.001);
    expect(strain.mean).toBeLessThan(0.01);
    expect(crossings).toBe(0);
  });

  it('one piece of cloth whose bottom has notches at both sides stands on the cloth between them', () => {
    const bag = parseBag({
      slumpline: 1,
      panels: {
        cloth: {
          role: 'body',
          outline: [
            { at: [0, 0], edge: 'front top' },
            { at: ['400 mm', 0], edge: 'front right' },
            { at: ['400 mm', '250 mm'], edge: 'front right in' },
            { at: ['350 mm', '250 mm'], edge: 'right end' },
            { at: ['350 mm', '350 mm'], edge: 'back right in' },
            { at: ['400 mm', '350 mm'], edge: 'back right' },
            { at: ['400 mm', '600 mm'], edge: 'back top' },
            { at: [0, '600 mm'], edge: 'back left' },
            { at: [0, '350 mm'], edge: 'back left in' },
            { at: ['50 mm', '350 mm'], edge: 'left end' },
            { at: ['50 mm', '250 mm'], edge: 'front left in' },
            { at: [0, '250 mm'], edge: 'front left' },
          ],
          open: ['front top', 'back top'],
        },
      },
      seams: {
        right: ['cloth.front right', 'cloth.back right'],
        left: ['cloth.front left', 'cloth.back left'],
        'right end': ['cloth.right end', ['cloth.front right in', 'cloth.back right in']],
        'left end': ['cloth.left end', ['cloth.back left in', 'cloth.front left in']],
      },
      stacks: { s: ['canvas10'] },
    });
    const draft = draftPanels(bag);
    expect(draft.boxed[0]?.lines.length).toBe(2);
    const mesh = meshPanels(bag, draft, { edgeLength: 0.018 });
    const { positions, strain, crossings } = placePanels(bag, draft, mesh);
    const rim = Array.from(mesh.outlines[0]['front top'].verts, (v) => positions[3 * v + 2]);
    console.log(`rim ${Math.min(...rim)}..${Math.max(...rim)} m, expected 0.25 within 1 %; strain ${strain.max}; crossings ${crossings}`);
    expect(Math.abs(Math.min(...rim) / 0.25 - 1)).toBeLessThan(0.01);
    expect(Math.abs(Math.max(...rim) / 0.25 - 1)).toBeLessThan(0.01);
    expect(strain.max).toBeLessThan(0.02);
    expect(crossings).toBe(0);
  });

  it('a fold line is a hinge of D / width at the sewn angle, a scored one turns freely', () => {
    for (const [crease, scale] of [
      ['0 mm', 0],
      ['5 mm', 1 / (2 * 0.005)],
    ] as const) {
      const bag = parseBag(newBag('drawstring-pouch', { crease }));
      const draft = draftPanels(bag);
      const mesh = meshPanels(bag, draft, { edgeLength: 0.02 });
      const placed = placePanels(bag, draft, mesh);
      const laminates = layUp(bag, bag.options[1].name, 'mid');
      const model = assemble(bag, mesh, laminates, sewnLayers(bag, laminates, 'mid'), placed.positions, bag.stances[0]);
      const hinges = [...mesh.edgeKind].filter((k) => k !== 1);
      let length = 0;
      hinges.forEach((kind, h) => {
        if (kind !== EDGE_FOLD) return;
        const [t, u] = [model.hingeTris[2 * h], model.hingeTris[2 * h + 1]];
        const rigidity = [t, u].map((tri) => {
          const { bending } = laminates[mesh.triPanel[tri]][mesh.triRegion[tri]];
          return Math.sqrt(bending[0] * bending[1]);
        });
        expect(model.hingeStiffness[h]).toBeCloseTo(scale * (rigidity[0] + rigidity[1]), 12);
        // Half a degree: the last of the start's pressure.
        if (scale > 0) expect(Math.abs(Math.abs(model.hingeRest[h]) - Math.PI / 2)).toBeLessThan(Math.PI / 360);
        const [a, b] = [3 * model.hingeVerts[4 * h], 3 * model.hingeVerts[4 * h + 1]];
        length += Math.hypot(...[0, 1, 2].map((d) => placed.positions[a + d] - placed.positions[b + d]));
      });
      // Base line W and two uprights H on both panels: 2 (127 + 2 x 165.1) mm.
      expect(length).toBeCloseTo(0.9144, 4);
    }
  });
});
