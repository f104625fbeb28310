import { told, type UnitChoice } from '../page/format.ts';
import type { Cloth } from './cloths.ts';
import { type Band, GRAVITY, isotropic, ownLength, ownMesh, type QuantityKind, readQuantity, type Sheet, type SwatchTestName, unfitSetup } from './core.ts';
import type { TestAsk } from './protocol.ts';
import { words } from './words.ts';

export const MESH_KINDS = ['structured', 'equilateral', 'irregular'] as const;

/** What stands in the test's fields, as typed. */
export interface TestEntry {
  readonly test: SwatchTestName;
  /** A material of the list, or figures typed in. */ readonly from: 'material' | 'figures';
  readonly material: string;
  readonly band: Band;
  readonly mass: string;
  readonly rigidity: string;
  readonly inPlane: string;
  /** '' : the test's own. */ readonly length: string;
  readonly mesh: string;
  readonly kind: (typeof MESH_KINDS)[number];
  readonly cut: string;
  /** Sliders, in doublings of the material's own figure. */
  readonly stiffer: number;
  readonly heavier: number;
}

export const FIRST_ENTRY: TestEntry = {
  test: 'cantilever',
  from: 'material',
  material: 'canvas10',
  band: 'mid',
  mass: '340 g/m2',
  rigidity: '51 mm',
  inPlane: '5 kN/m',
  length: '',
  mesh: '',
  kind: 'irregular',
  cut: '',
  stiffer: 0,
  heavier: 0,
};

export type Field = 'material' | 'mass' | 'rigidity' | 'inPlane' | 'length' | 'mesh' | 'cut' | 'test';
export type Faults = Partial<Readonly<Record<Field, string>>>;

/** What is kept from an earlier visit, where it still makes sense. */
export function restored(kept: unknown): TestEntry {
  const old = (kept ?? {}) as Partial<Record<keyof TestEntry, unknown>>;
  const out: Record<string, unknown> = { ...FIRST_ENTRY };
  for (const key of ['material', 'mass', 'rigidity', 'inPlane', 'length', 'mesh', 'cut'] as const) if (typeof old[key] === 'string') out[key] = old[key];
  for (const key of ['stiffer', 'heavier'] as const) if (typeof old[key] === 'number' && Math.abs(old[key]) <= 3) out[key] = old[key];
  const one = (key: keyof TestEntry, all: readonly unknown[]): void => {
    if (all.includes(old[key])) out[key] = old[key];
  };
  one('test', Object.keys(words.tests));
  one('from', ['material', 'figures']);
  one('band', ['low', 'mid', 'high']);
  one('kind', MESH_KINDS);
  return out as unknown as TestEntry;
}

/** A typed quantity; a bare number is taken in the field's own unit. */
function readField(typed: string, kind: QuantityKind, unit: string): { readonly value: number } | { readonly expected: string } {
  const bare = /^\s*[-+]?\d+([.,]\d+)?\s*$/.test(typed);
  const reading = readQuantity(bare ? `${typed.trim().replace(',', '.')} ${unit}` : typed, kind);
  return reading.ok ? { value: reading.value } : { expected: reading.expected };
}

/** The sheet on the bench with the sliders' doublings. */
export function changed(sheet: Sheet, entry: Pick<TestEntry, 'stiffer' | 'heavier'>): Sheet {
  const [stiffer, heavier] = [2 ** entry.stiffer, 2 ** entry.heavier];
  const [a, b, c, d] = sheet.bending;
  return { ...sheet, arealMass: sheet.arealMass * heavier, bending: [a * stiffer, b * stiffer, c * stiffer, d * stiffer] };
}

export interface Ready {
  readonly sheet: Sheet;
  /** Before the sliders. */ readonly own: Sheet;
  readonly ask: Omit<TestAsk, 'watch'>;
  /** Length that is tested, and what the test would take of itself, m. */ readonly length: number;
  readonly ownLength: number;
  readonly cloth: Cloth | null;
}

/** The entry in SI, ready to be tested, or every fault of it beside its field. */
export function readEntry(entry: TestEntry, cloths: readonly Cloth[], units: UnitChoice = 'metric'): Ready | { readonly faults: Faults } {
  const faults: Partial<Record<Field, string>> = {};
  const bare = units === 'inch' ? 'in' : 'mm';
  const size = (field: Field & keyof TestEntry, kind: QuantityKind, unit: string, any = false): number => {
    const read = readField(String(entry[field]), kind, unit);
    if ('expected' in read) faults[field] = words.expected(read.expected);
    else if (!(read.value > 0) && !any) faults[field] = words.moreThanZero;
    else return read.value;
    return Number.NaN;
  };
  const cloth = entry.from === 'material' ? (cloths.find((c) => c.id === entry.material) ?? null) : null;
  let own: Sheet | null = cloth?.sheet ?? null;
  if (entry.from === 'material' && !cloth) faults.material = words.noSuchMaterial;
  if (entry.from === 'figures') {
    const [mass, inPlane] = [size('mass', 'arealMass', 'g/m2'), size('inPlane', 'inPlane', 'N/m')];
    // An overhang, or for an engineer the rigidity itself: B = w c^3, c half the overhang.
    const overhang = readField(entry.rigidity, 'length', bare);
    if ('value' in overhang && !(overhang.value > 0)) faults.rigidity = words.moreThanZero;
    const rigidity = 'value' in overhang ? mass * GRAVITY * (overhang.value / 2) ** 3 : size('rigidity', 'bending', 'uN.m');
    if ('expected' in overhang && 'expected' in readField(entry.rigidity, 'bending', 'uN.m')) faults.rigidity = words.rigidityUnread;
    if (mass < 0.01 || mass > 10) faults.mass = words.massRange;
    if (Number.isFinite(rigidity) && !(rigidity >= 1e-9 && rigidity <= 1e3)) faults.rigidity = words.rigidityRange;
    if (inPlane < 1 || inPlane > 1e9) faults.inPlane = words.inPlaneRange;
    own = isotropic(mass, rigidity, inPlane);
  }
  const given = (field: 'length' | 'mesh', unit: string): number | null => (entry[field].trim() === '' ? null : size(field, 'length', unit));
  const [length, mesh] = [given('length', bare), given('mesh', bare)];
  // Before anything is worked out with them: of a kilometre of strip the core could only tell that it is too large a mesh.
  for (const [field, value] of [
    ['length', length],
    ['mesh', mesh],
  ] as const)
    if (value !== null && (value < 1e-4 || value > 100)) faults[field] = words.lengthRange[units];
  const cut = entry.cut.trim() === '' ? (entry.test === 'bias' ? Math.PI / 4 : 0) : size('cut', 'angle', 'deg', true);
  if (Object.keys(faults).length > 0 || !own) return { faults };
  const sheet = changed(own, entry);
  const its = ownLength(entry.test, sheet, cut);
  const tested = length ?? its;
  const ask = {
    test: entry.test,
    sheet,
    length: length ?? (entry.test === 'drape' ? tested : null),
    mesh: mesh ?? ownMesh(entry.test, tested),
    kind: entry.kind,
    cut,
  };
  for (const line of unfitSetup(entry.test, { ...ask, length: tested }, length === null)) {
    // The core's lines begin with the command line's own flag where a field is at fault.
    const field = /^--(length|mesh) [^:]*: /.exec(line);
    const said = told((field ? line.slice(field[0].length) : line).replace(/--(\w+)/g, '$1'), units);
    const key = (field?.[1] as 'length' | 'mesh' | undefined) ?? 'test';
    faults[key] = faults[key] ? `${faults[key]}; ${said}` : said;
  }
  if (Object.keys(faults).length > 0) return { faults };
  return { sheet, own, ask: { ...ask, preset: cloth?.preset ? cloth.id : null }, length: tested, ownLength: its, cloth };
}
