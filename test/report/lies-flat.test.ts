import { describe, expect, it } from 'vitest';
import { newBag, parseBag } from '../../src/bag/index.ts';
import { measure } from '../../src/measures/measure.ts';
import { meshPanels } from '../../src/mesh/mesh-panels.ts';
import { draftPanels } from '../../src/panels/draft-panels.ts';
import { placePanels } from '../../src/placement/place-panels.ts';
import { judge } from '../../src/report/judge.ts';
import { runWith } from './results.ts';

const DEG = Math.PI / 180;
const fallen = { heightKept: 0.2, wallLean: 80 * DEG, footprintKept: null };

function drafted(name: string) {
  const bag = parseBag(newBag(name));
  const draft = draftPanels(bag);
  const mesh = meshPanels(bag, draft, { edgeLength: 0.02 });
  const { positions } = placePanels(bag, draft, mesh);
  const ones = bag.panels.map(() => 1);
  return measure({ bag, mesh, drafted: positions, settled: positions, overhangs: ones, panelMass: ones, stance: 'standing' });
}

describe('bags without a base', () => {
  it('one whose wall leans 80 deg lies flat and is told so; with a base, or at 40 deg, it slumps', () => {
    const flat = judge([runWith(fallen, { hasBase: false })], 'structured');
    expect(flat.word).toBe('lies flat');
    expect(flat.reason).toContain('a wall leaning 80 deg: it has no base to stand on');
    // Never what is wanted, standing: it is judged as it hangs.
    for (const wanted of ['slouchy', 'structured'] as const)
      expect(judge([runWith(fallen, { hasBase: false })], wanted)).toMatchObject({ meetsWanted: null, fit: 'falls over' });
    expect(judge([{ ...runWith(fallen, { hasBase: false }), band: 'low' }, runWith({})], 'structured').wantedReason).toBe(
      'Falls over, so it is not "structured" with a soft bolt.',
    );
    expect(judge([runWith(fallen, { hasBase: true })], 'structured').word).toBe('slumps');
    expect(judge([runWith({ ...fallen, wallLean: 40 * DEG }, { hasBase: false })], 'structured').word).toBe('slumps');
  });

  it.each(['flat-tote', 'satchel', 'crescent', 'barrel-duffel', 'backpack'])('%s has none, so no footprint to keep', (name) => {
    const { hasBase, measures } = drafted(name);
    expect(hasBase).toBe(false);
    expect(measures.footprintKept).toBeNull();
  });

  it.each(['boxed-tote', 'drawstring-pouch', 'bucket', 'envelope-clutch', 'gathered-tote'])(
    '%s has one, and keeps all of its footprint as drafted to 1e-9',
    (name) => {
      const { hasBase, measures } = drafted(name);
      expect(hasBase).toBe(true);
      expect(measures.footprintKept).toBeCloseTo(1, 9);
    },
  );

  it("the backpack's zip strip lies over the top: it is no wall, its gusset is one", () => {
    const { panels } = drafted('backpack');
    const lean = (name: string) => panels.find((p) => p.name === name)?.lean;
    expect(lean('zip front')).toBeNull();
    expect(lean('zip back')).toBeNull();
    expect(lean('gusset')).not.toBeNull();
    expect(lean('front')).not.toBeNull();
  });
});
