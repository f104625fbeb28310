/** What to put on the bench: a built-in material, a file of the maker's own, or bare figures. */
import { at, FaultList, newBag, parseBagDocument, withValue } from '../bag/index.ts';
import type { Bag, Stack } from '../bag/types.ts';
import { type Band, laminateOf, materialBands } from '../material/index.ts';
import { formatGsm } from '../units/index.ts';
import type { Sheet } from './sheet.ts';

/** A material on the bench, at one end of its band. */
export interface Cloth {
  readonly name: string;
  /** Preset id, where the cloth is one. */ readonly id: string | null;
  readonly sheet: Sheet;
  /** Where the figures come from. */ readonly story: string;
}

/** Areal masses outside these are a slip of the unit: tissue to thick sole leather, kg/m2. Source: common practice. */
const PLAUSIBLE = [0.01, 10] as const;

const oneLayer = (material: string): Stack => ({
  name: material,
  kind: 'layers',
  layers: [{ material, thickness: null, thicknessRange: null, join: 'loose', bond: null, angle: 0 }],
});

function clothOf(bag: Pick<Bag, 'materials'>, stack: Stack, name: string, id: string | null, band: Band): Cloth {
  const { arealMass, bending, inPlane, thickness, story } = laminateOf(bag as Bag, stack, band);
  return { name, id, sheet: { arealMass, bending, inPlane, thickness }, story };
}

/** A built-in material, or null when there is none of this id. Parameters: id; which end of its band (default mid). */
export function presetCloth(id: string, band: Band = 'mid'): Cloth | null {
  const found = materialBands(id);
  return found && clothOf({ materials: [] }, oneLayer(id), found.name, id, band);
}

/**
 * The cloth of a file such as swatch readings are saved in: {"materials": {...}, "stacks": {...}}, or of a whole bag file. A stack with all
 * four rigidities is taken before the material it was made from; of several the first. Throws BagError with every fault.
 */
export function fileCloth(source: unknown, band: Band = 'mid'): Cloth {
  const faults = new FaultList();
  const entry = source as { materials?: Record<string, unknown>; stacks?: Record<string, unknown> };
  const plain = (v: unknown): v is Record<string, unknown> => v !== null && typeof v === 'object' && !Array.isArray(v);
  if (!plain(source)) faults.add('', source, 'an object with "materials", such as swatch readings are saved in');
  faults.stop();
  const sections = (['materials', 'stacks'] as const).filter((key) => entry[key] !== undefined);
  for (const key of sections) if (!plain(entry[key])) faults.add(key, entry[key], 'an object, one entry a name');
  if (sections.length === 0) faults.addText('', 'no materials and no stacks', '"materials" with one of your own, such as swatch readings are saved in');
  faults.stop();
  const [materials, stacks] = [Object.entries(entry.materials ?? {}), Object.entries(entry.stacks ?? {})];
  // Read by the bag file's own rules, on the simplest bag there is: one way to write a material, one list of faults.
  let { document } = parseBagDocument(newBag('flat-tote'));
  for (const [name, value] of materials) document = withValue(document, ['materials', name], value);
  for (const [name, value] of stacks) document = withValue(document, ['stacks', name], value);
  const { bag } = parseBagDocument(document.value);
  const heavy = (path: string, mass: number) => {
    if (!(mass >= PLAUSIBLE[0] && mass <= PLAUSIBLE[1]))
      faults.addText(path, formatGsm(mass), `${formatGsm(PLAUSIBLE[0])} to ${formatGsm(PLAUSIBLE[1])}; is the unit meant to be g/m2?`);
  };
  for (const m of bag.materials) if (materials.some(([name]) => name === m.id)) heavy(at(at('materials', m.id), 'mass'), m.arealMass);
  for (const q of bag.stacks) if (q.kind === 'direct' && stacks.some(([name]) => name === q.name)) heavy(at(at('stacks', q.name), 'mass'), q.arealMass);
  faults.stop();
  const direct = bag.stacks.find((s) => s.kind === 'direct' && stacks.some(([name]) => name === s.name));
  const own = bag.materials.find((m) => materials.some(([name]) => name === m.id));
  if (!own && !direct) faults.addText(at('', 'materials'), 'no material of your own', 'at least one');
  faults.stop();
  const ofMaterial = (end: Band): Cloth => clothOf(bag, oneLayer((own as { id: string }).id), (own as { name: string }).name, null, end);
  if (!direct) return ofMaterial(band);
  const typical = clothOf(bag, direct, direct.name, null, 'mid');
  // Four full figures have no band of their own: the readings' spread, along warp and weft, is that of the material they were worked out with.
  return band === 'mid' || !own ? typical : { ...typical, sheet: spreadAs(typical.sheet, ofMaterial('mid').sheet, ofMaterial(band).sheet) };
}

/** A sheet as much softer or stiffer as one end of another's band is than its middle; twist by the mean of both ways. */
function spreadAs(sheet: Sheet, mid: Sheet, end: Sheet): Sheet {
  const [warp, weft] = [end.bending[0] / mid.bending[0], end.bending[1] / mid.bending[1]];
  const mean = Math.sqrt(warp * weft);
  const [d11, d22, d12, d66] = sheet.bending;
  return { ...sheet, arealMass: (sheet.arealMass * end.arealMass) / mid.arealMass, bending: [d11 * warp, d22 * weft, d12 * mean, d66 * mean] };
}
