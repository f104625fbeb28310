/** The built-in materials in SI, with their bands and what they rest on. */

import type { PresetId } from '../bag/index.ts';
import type { Three } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';
import { type Family, PRESET_NAMES } from './data/preset-names.ts';
import { PRESET_NOTES, type PresetNotes } from './data/preset-notes.ts';
import { PRESET_ROWS, type PresetRow, SCALED_ROWS, type ScaledRow } from './data/presets.ts';
import type { Evidence } from './types.ts';

/**
 * How a material behaves where its table row leaves a choice open.
 * cloth: yarns slide, so bending is no modulus times t^3. felt: bonded or needled fibres, foam with faces. solid: one piece, B = E t^3/12,
 * rescaled when another thickness is written; sheet: a solid that is the same in every direction.
 */
type MaterialClass = 'cloth' | 'felt' | 'solid' | 'sheet';

/** A material with the soft end, the middle and the stiff end of each figure, SI. */
export interface MaterialBands {
  readonly id: string;
  readonly name: string;
  readonly family: Family | 'your own';
  readonly class: MaterialClass;
  /** kg/m2 */ readonly arealMass: Three;
  /** m */ readonly thickness: Three;
  /** N*m, cantilever-equivalent, geometric mean of warp and weft */ readonly bending: Three;
  /** Stiffer over softer direction. */ readonly stiffOverSoft: Three;
  /** N/m */ readonly inPlane: Three;
  /** N/m */ readonly shear: Three;
  /** Geometric-mean Poisson's ratio in bending and in plane. */ readonly poisson: number;
  readonly evidence: Evidence;
  readonly status: string;
}

const SHEETS: ReadonlySet<string> = new Set(['pp0.5', 'pp0.8', 'pp1', 'pp1.5', 'ldpe1', 'hdpe1']);
const SOLIDS: ReadonlySet<string> = new Set(['web_strap_leather', 'pefoam', 'nwboard', 'leatherboard', 'fibreboard1', 'vinyl', 'cork', 'felt2']);
const FELTS: ReadonlySet<string> = new Set(['fus_light', 'fus_heavy', 'fleece', 'foam', 'neoprene2', 'neoprene4', 'spacermesh']);

function classOf(id: string, family: Family): MaterialClass {
  if (SHEETS.has(id)) return 'sheet';
  if (family === 'leather' || SOLIDS.has(id)) return 'solid';
  return FELTS.has(id) ? 'felt' : 'cloth';
}

/**
 * Poisson's ratio by class. cloth 0: published tensile ratios scatter from 0.07 to 0.38 and change with strain (Penava et al. 2014, second-hand), and
 * in bending crossing yarns hardly couple. felt 0.2 and leather or board 0.3: estimates. Polyolefin sheet 0.42: from memory.
 */
const POISSON: Readonly<Record<MaterialClass, number>> = { cloth: 0, felt: 0.2, solid: 0.3, sheet: 0.42 };

// "published modulus, B computed" is published; "estimate: published values, their unit inferred" is not.
const evidenceOf = (status: string): Evidence => (status.startsWith('published') ? 'published' : 'estimate');

const scale = (band: Three, size: number): Three => [band[0] / size, band[1] / size, band[2] / size];

function toSi(id: string, base: string, row: PresetRow): MaterialBands {
  const [family, name] = PRESET_NAMES[id as PresetId];
  const kind = classOf(base, family);
  const poisson = POISSON[kind];
  const status = row.status ?? 'estimate';
  const sheared = (c: number) => c / (2 * (1 + poisson));
  const ratio: Three = kind === 'sheet' ? [1, 1, 1] : (row.stiffOverSoft ?? [1, 1, 1]);
  const isotropicShear: Three = [sheared(row.inPlane[0]), sheared(row.inPlane[1]), sheared(row.inPlane[2])];
  return {
    id,
    name,
    family,
    class: kind,
    arealMass: scale(row.arealGsm, 1e3),
    thickness: scale(row.thicknessMm, 1e3),
    bending: scale(row.bendingUNm, 1e6),
    stiffOverSoft: ratio,
    inPlane: row.inPlane,
    // A sheet of one piece cannot choose its shear stiffness; straps without a figure are treated alike.
    shear: kind === 'sheet' || row.shear === null ? isotropicShear : row.shear,
    poisson,
    evidence: evidenceOf(status),
    status,
  };
}

/** A heavier or thicker one of a kind (data/presets.ts says by which powers); always an estimate. */
function scaledRow([base, to, power]: ScaledRow): PresetRow {
  const row: PresetRow = PRESET_ROWS[base];
  const thick = power === undefined;
  const size = to / (thick ? row.thicknessMm : row.arealGsm)[1];
  const times = (band: Three, p: number): Three => scale(band, libm.exp(-p * libm.log(size)));
  return {
    arealGsm: times(row.arealGsm, 1),
    thicknessMm: times(row.thicknessMm, thick ? 1 : 0.8),
    bendingUNm: times(row.bendingUNm, power ?? 3),
    stiffOverSoft: row.stiffOverSoft,
    inPlane: times(row.inPlane, 1),
    shear: row.shear && times(row.shear, 1),
    status: `estimate, scaled by ${thick ? 'thickness' : 'mass'}`,
  };
}

function readAll(): ReadonlyMap<string, MaterialBands> {
  const rows: Readonly<Record<string, PresetRow>> = PRESET_ROWS;
  const scaled: Readonly<Record<string, ScaledRow>> = SCALED_ROWS;
  return new Map(Object.keys(PRESET_NAMES).map((id) => [id, rows[id] ? toSi(id, id, rows[id]) : toSi(id, scaled[id][0], scaledRow(scaled[id]))]));
}

let read: ReadonlyMap<string, MaterialBands> | null = null;
// Read when first asked for: a page that only offers materials by name does not load the figures.
const all = (): ReadonlyMap<string, MaterialBands> => (read ??= readAll());

/** Every built-in material, in the order of the table. */
export const presets = (): readonly MaterialBands[] => [...all().values()];

/** A built-in material in SI with low / mid / high bands, or null when there is none of this id. Bands are estimates unless evidence says published. */
export function materialBands(id: PresetId): MaterialBands;
export function materialBands(id: string): MaterialBands | null;
export function materialBands(id: string): MaterialBands | null {
  return all().get(id) ?? null;
}

/** Why a built-in material's figures are what they are, and their sources; null when there is none of this id. */
export const presetNotes = (id: string): PresetNotes | null => (PRESET_NOTES as Readonly<Record<string, PresetNotes>>)[id] ?? null;
