/** Shelf file to Shelf. Every fault of the file is reported at once. */
import {
  at,
  builtIn,
  FaultList,
  goodLabel,
  isPlain,
  LABEL_RULE,
  LIMITS,
  oneOf,
  type Plain,
  PRESET_IDS,
  plainSource,
  readJson,
  readMaterials,
  validated,
} from '../bag/index.ts';
import { materialBands } from '../material/index.ts';
import { readQuantity } from '../units/index.ts';
import { ItemForm, ShelfForm } from './schema.ts';
import { readSold, readStock } from './sold.ts';
import { readSoldTrim, trimSize } from './sold-trim.ts';
import type { Shelf, ShelfDocument, ShelfItem, Use } from './types.ts';
import { FUSIBLE, SHUNS_HEAT, TRIMS, USES, WEBBING } from './words.ts';

/** Most materials that are looked at. */
const MOST_ITEMS = 400;

/** Is this the text of a shelf file, whatever its faults? A bag file has no "shelf". */
export function isShelfText(text: string): boolean {
  if (text.length > LIMITS.bytes) return false;
  const read = readJson(text);
  return read.ok && isPlain(read.value) && Object.hasOwn(read.value, 'shelf') && !Object.hasOwn(read.value, 'slumpline');
}

function readSource(source: unknown): Plain {
  const faults = new FaultList(),
    plain = plainSource(source, faults, '{"shelf": 1, ...}');
  if (!Object.hasOwn(plain, 'shelf'))
    faults.addText('shelf', Object.hasOwn(plain, 'slumpline') ? 'a bag file' : 'nothing', '"shelf": 1, the version of the shelf file');
  else if (plain.shelf !== 1) faults.add('shelf', plain.shelf, '1, the only version there is');
  if (isPlain(plain.items) && Object.keys(plain.items).length > MOST_ITEMS)
    faults.addText('items', `${Object.keys(plain.items).length} materials`, `at most ${MOST_ITEMS}`);
  faults.stop();
  return plain;
}

function usesOf(faults: FaultList, path: string, written: ItemForm['use'], kind: string): Use[] {
  const uses = Array.isArray(written) ? written : [written];
  if (uses.length === 0) faults.addText(at(path, 'use'), 'an empty list', `at least one of ${USES.map((u) => `"${u}"`).join(', ')}`);
  uses.forEach((use, i) => {
    const where = Array.isArray(written) ? at(at(path, 'use'), i) : at(path, 'use');
    if (uses.indexOf(use) !== i) faults.add(where, use, 'each use once');
    if (use === 'fused' && kind !== '' && !FUSIBLE.test(kind))
      faults.addText(where, `"fused", but ${kind} has no adhesive`, '"sewn in"; or a material of your own that is "like" a fusible');
  });
  if (WEBBING.test(kind)) faults.addText(at(path, 'material'), `the webbing "${kind}"`, 'a material that panels are cut from, or "use": "trim"');
  return uses;
}

type Own = ReturnType<typeof readMaterials>;

/** A webbing or another kind of trim, which no panel is cut from. */
function trimOf(faults: FaultList, id: string, form: ItemForm, own: Own): ShelfItem | null {
  const path = at('items', id),
    before = faults.faults.length,
    kind = own.names.has(form.material) ? builtIn({ materials: own.materials }, form.material) : form.material;
  if (Array.isArray(form.use) && form.use.length > 1) faults.addText(at(path, 'use'), `"trim" and another`, '"trim" alone: no panel is cut from a trim');
  if (!TRIMS.includes(kind))
    faults.add(at(path, 'material'), form.material, oneOf('a webbing, or what a bag file calls it', form.material, [...own.names, ...TRIMS]));
  const size = trimSize(faults, path, form),
    sold = readSoldTrim(faults, path, form, kind),
    stock = readStock(faults, path, form.stock, sold);
  if (faults.faults.length > before) return null;
  return { ...common(id, form, own), uses: ['trim'], thickness: null, size, bond: null, takesFusing: false, sold, stock };
}

const common = (id: string, form: ItemForm, own: Own): Pick<ShelfItem, 'id' | 'name' | 'material' | 'colour'> => ({
  id,
  name: form.name?.trim() || (own.materials.find((m) => m.id === form.material)?.name ?? materialBands(form.material)?.name ?? form.material),
  material: form.material,
  colour: form.colour?.trim() || null,
});

function itemOf(faults: FaultList, id: string, form: ItemForm, own: Own): ShelfItem | null {
  const path = at('items', id),
    before = faults.faults.length;
  if (!own.names.has(form.material) && !(PRESET_IDS as readonly string[]).includes(form.material))
    faults.add(at(path, 'material'), form.material, oneOf('a material of this shelf or a built-in one', form.material, [...own.names, ...PRESET_IDS]));
  const kind = builtIn({ materials: own.materials }, form.material),
    uses = usesOf(faults, path, form.use, kind);
  let thickness: number | null = null;
  if (form.thickness !== undefined) {
    const read = readQuantity(String(form.thickness), 'thickness');
    if (!read.ok) faults.add(at(path, 'thickness'), form.thickness, read.expected);
    else if (!(read.value > 0 && read.value <= LIMITS.thickness))
      faults.add(at(path, 'thickness'), form.thickness, `more than 0 mm and at most ${1000 * LIMITS.thickness} mm`);
    else thickness = read.value;
  }
  if (form.bond !== undefined && !uses.includes('fused')) faults.add(at(path, 'bond'), form.bond, 'a bond only on what is fused');
  const sold = readSold(faults, path, form, kind),
    stock = readStock(faults, path, form.stock, sold);
  for (const key of ['size', 'reel'] as const) if (form[key] !== undefined) faults.add(at(path, key), form[key], `"${key}" only of a trim`);
  if (faults.faults.length > before) return null;
  return {
    ...common(id, form, own),
    uses,
    thickness,
    size: null,
    bond: form.bond ?? null,
    takesFusing: form['takes fusing'] ?? !SHUNS_HEAT.test(kind),
    sold,
    stock,
  };
}

/**
 * The shelf of a file, resolved and in SI, together with the document it was read from.
 * Parameter: text of a `*.shelf.json` (at most 2 MB) or its parsed value. Errors: BagError with every fault (path, value got, what was expected).
 */
export function parseShelfDocument(source: unknown): { readonly document: ShelfDocument; readonly shelf: Shelf } {
  const file = readSource(source),
    faults = new FaultList();
  const known = Object.keys(ShelfForm.shape);
  for (const key of Object.keys(file)) if (!known.includes(key)) faults.add(key, file[key], oneOf('a known entry', key, known));
  const text = (key: 'name' | 'note' | 'currency' | '$schema'): string => {
    const value = file[key];
    if (value === undefined) return '';
    const read = ShelfForm.shape[key].safeParse(value);
    if (!read.success) faults.add(key, value, read.error.issues[0]!.message);
    return typeof value === 'string' ? value.trim() : '';
  };
  const [name, note, currency] = [text('name') || 'Shelf', text('note'), text('currency')];
  text('$schema');
  const own = readMaterials(faults, file);
  const written = file.items;
  if (!isPlain(written)) faults.add('items', written, 'an object {"name": {"material": ..., "use": ...}}');
  else if (Object.keys(written).length === 0) faults.addText('items', 'nothing on it', 'at least one material');
  const items = Object.entries(isPlain(written) ? written : {}).flatMap(([id, form]): ShelfItem[] => {
    const path = at('items', id);
    if (!goodLabel(id)) faults.addText(path, `the name ${JSON.stringify(id.slice(0, 60))}`, LABEL_RULE);
    const sound = validated(faults, path, form, ItemForm);
    const made = sound && ([sound.use].flat().includes('trim') ? trimOf : itemOf)(faults, id, sound, own);
    return made ? [made] : [];
  });
  faults.stop();
  return { document: { value: file }, shelf: { version: 1, name, note, currency, materials: own.materials, items } };
}

/** As parseShelfDocument, for a caller that only needs the shelf. Errors: BagError. */
export const parseShelf = (source: unknown): Shelf => parseShelfDocument(source).shelf;
