/** A material of the shelf as its form has it, to the form of the shelf file and back. Nothing is converted: what is typed is what is written. */
import { BagError, type Fault, PRICED_BY, parseShelfDocument, THREAD, TRIMS, trimSoldBy, USES, type Use } from './core.ts';
import { words } from './words.ts';

export type SoldBy = keyof typeof words.sold;
/** What stands in the form, as typed. */
export interface ItemEntry {
  readonly id: string;
  readonly material: string;
  readonly uses: readonly Use[];
  readonly sold: SoldBy;
  /** Of a trim, and of a reel of thread. */ readonly size: string;
  readonly reel: string;
  readonly width: string;
  readonly sheetWidth: string;
  readonly sheetLength: string;
  readonly waste: string;
  readonly price: string;
  /** A hide's price: for a m2 or a ft2. */ readonly area: 'per m2' | 'per ft2';
  readonly stock: string;
  readonly colour: string;
  readonly thickness: string;
  readonly bond: string;
  readonly fusing: '' | 'yes' | 'no';
  readonly note: string;
}
type ItemKey = keyof ItemEntry;
export type ItemFaults = Readonly<Partial<Record<ItemKey, string>>>;

export const NEW_ITEM: ItemEntry = {
  id: '',
  material: 'canvas10',
  uses: ['shell'],
  sold: 'metre',
  size: '',
  reel: '',
  width: '',
  sheetWidth: '',
  sheetLength: '',
  waste: '',
  price: '',
  area: 'per m2',
  stock: '',
  colour: '',
  thickness: '',
  bond: '',
  fusing: '',
  note: '',
};

/** How a trim may be sold, the usual way first; null: it is no trim but a material that panels are cut from. */
export const soldAs = (material: string): readonly SoldBy[] | null => (TRIMS.includes(material) ? trimSoldBy(material) : null);

type Form = Readonly<Record<string, unknown>>;
const text = (v: unknown): string => (v === undefined || v === null ? '' : String(v));
const form = (v: unknown): Form => (typeof v === 'object' && v !== null ? (v as Form) : {});

const trimSold = (f: Form, priced: string): SoldBy =>
  f.reel !== undefined || priced === 'per reel'
    ? 'reel'
    : priced === 'per piece'
      ? 'piece'
      : priced === 'per metre'
        ? 'length'
        : (soldAs(text(f.material))?.[0] ?? 'length');

/** A kept material as its form shows it. */
export function entryOf(id: string, item: unknown): ItemEntry {
  const f = form(item),
    price = form(f.price),
    sheet = Array.isArray(f.sheet) ? f.sheet : [];
  const priced = Object.keys(price)[0] ?? '';
  const area = priced === 'per m2' || priced === 'per ft2';
  const uses = (Array.isArray(f.use) ? f.use : [f.use]).filter((u): u is Use => USES.includes(u as Use));
  return {
    id,
    material: text(f.material),
    uses,
    sold: uses.includes('trim')
      ? trimSold(f, priced)
      : sheet.length > 0 || priced === 'per sheet'
        ? 'sheet'
        : area || f.waste !== undefined
          ? 'area'
          : f.width !== undefined
            ? 'metre'
            : 'none',
    size: text(f.size),
    reel: text(f.reel),
    width: text(f.width),
    sheetWidth: text(sheet[0]),
    sheetLength: text(sheet[1]),
    waste: text(f.waste),
    price: text(price[priced]),
    area: priced === 'per ft2' ? 'per ft2' : 'per m2',
    stock: text(f.stock),
    colour: text(f.colour),
    thickness: text(f.thickness),
    bond: text(f.bond),
    fusing: f['takes fusing'] === true ? 'yes' : f['takes fusing'] === false ? 'no' : '',
    note: text(f.note),
  };
}

/** A typed number; a comma is a point to whoever types it. What is no number is handed on as typed, and judged there. */
const number = (typed: string): number | string => {
  const value = Number(typed.trim().replace(/^(\d+),(\d+)$/, '$1.$2'));
  return typed.trim() !== '' && Number.isFinite(value) ? value : typed;
};

/** The form of the shelf file. `before`: the item that is changed, whose other entries stay. */
export function itemForm(e: ItemEntry, before: unknown = {}): Form {
  const {
    material: _,
    use: __,
    width: ___,
    size: ____,
    reel: _____,
    sheet,
    waste,
    price,
    stock,
    colour,
    thickness,
    bond,
    'takes fusing': fusing,
    note,
    ...rest
  } = form(before);
  const put = (key: string, typed: string, shown = true): Form => (shown && typed.trim() !== '' ? { [key]: typed.trim() } : {});
  const priced = { ...PRICED_BY, area: e.area, none: '' }[e.sold],
    trim = e.uses.includes('trim');
  const sheetSize = e.sold === 'sheet' && (e.sheetWidth.trim() !== '' || e.sheetLength.trim() !== '');
  return {
    ...rest,
    material: e.material,
    use: e.uses.length === 1 ? e.uses[0] : e.uses,
    ...put('size', e.size, trim && e.material !== THREAD),
    ...put('reel', e.reel, trim && e.sold === 'reel'),
    ...put('thickness', e.thickness, !trim),
    ...(e.bond.trim() === '' || !e.uses.includes('fused') ? {} : { bond: number(e.bond) }),
    ...(e.fusing === '' || trim ? {} : { 'takes fusing': e.fusing === 'yes' }),
    ...put('width', e.width, e.sold === 'metre'),
    ...(sheetSize ? { sheet: [e.sheetWidth.trim(), e.sheetLength.trim()] } : {}),
    ...put('waste', e.waste, e.sold === 'area'),
    ...(e.price.trim() === '' || priced === '' ? {} : { price: { [priced]: number(e.price) } }),
    ...put('stock', e.stock, e.sold !== 'none'),
    ...put('colour', e.colour),
    ...put('note', e.note),
  };
}

/** Which field a fault's path is about. */
function fieldOf(path: string, e: ItemEntry): ItemKey {
  const [, , key = '', part = ''] = path.replace(/\[(\d+)\]/g, '.$1').split('.');
  if (key === 'sheet') return part === '1' ? 'sheetLength' : 'sheetWidth';
  if (key === 'use') return 'uses';
  if (key === 'takes fusing') return 'fusing';
  // What a price needs beside it is missing in the field for it.
  if (key === 'price') return part !== '' ? 'price' : e.sold === 'metre' ? 'width' : e.sold === 'sheet' ? 'sheetWidth' : e.sold === 'reel' ? 'reel' : 'price';
  const known: readonly string[] = ['material', 'size', 'reel', 'width', 'waste', 'stock', 'colour', 'thickness', 'bond', 'note'];
  return known.includes(key) ? (key as ItemKey) : 'id';
}

/** What is wrong with it, field by field, as the reader of shelf files says; null: nothing. taken: is the name another's? own: swatches that it may be of. */
export function faultsOf(e: ItemEntry, item: Form, taken: (id: string) => boolean, own: Form): ItemFaults | null {
  const out: Partial<Record<ItemKey, string>> = {};
  if (taken(e.id.trim())) out.id = words.form.nameTaken;
  if (e.uses.length === 0) out.uses = words.form.useFault;
  const priced = Object.keys(form(item.price))[0] ?? '';
  let sound = item;
  // Told here in words for a field; a figure stands in for it, so that what else is wrong is found as well.
  if (typeof form(item.price)[priced] === 'string') {
    out.price = words.form.priceFault;
    sound = { ...sound, price: { [priced]: 0 } };
  }
  if (typeof item.bond === 'string') {
    out.bond = words.form.bondFault;
    sound = { ...sound, bond: 0.5 };
  }
  const judge = (id: string): readonly Fault[] => {
    try {
      parseShelfDocument({ shelf: 1, items: { [id]: sound }, ...(Object.hasOwn(own, e.material) ? { materials: { [e.material]: own[e.material] } } : {}) });
      return [];
    } catch (error) {
      if (error instanceof BagError) return error.faults;
      throw error;
    }
  };
  for (const { path, expected } of judge('x')) out[fieldOf(path, e)] ??= expected;
  // The name by itself: whatever it is made of, it stands in no path.
  if (!out.id && judge(e.id.trim()).length > judge('x').length) out.id = judge(e.id.trim())[0]!.expected;
  return Object.keys(out).length > 0 ? out : null;
}
