/** One written layer to a sheet: bending and in-plane stiffness of one end of its band. */

import type { Bag, Four, Layer, OwnMaterial, Three } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';
import { fromStrips, twistFromBias } from './orthotropy.ts';
import { type MaterialBands, materialBands } from './presets.ts';
import type { Band, Evidence } from './types.ts';

/** A layer in its own warp frame, SI. */
export interface Sheet {
  readonly name: string;
  readonly arealMass: number;
  readonly thickness: number;
  readonly bending: Four;
  readonly inPlane: Four;
  readonly evidence: Evidence;
  /** What the figures rest on, for the story. */ readonly basis: string;
  /** A soft core shears, which lamination theory does not know. */ readonly softCore: boolean;
}

/** Bias over geometric-mean rigidity of cloth: median of 251 cantilever-tested fabrics. Source: Feng, Huang, Xu, Wang 2022. */
const BIAS = 0.96;

const INDEX: Readonly<Record<Band, 0 | 1 | 2>> = { low: 0, mid: 1, high: 2 };

const WEAKNESS: readonly Evidence[] = ['estimate', 'published', 'stated', 'your swatch'];

/** The weakest of several kinds of evidence: a chain is worth its weakest link. */
export const weakest = (all: readonly Evidence[]): Evidence => WEAKNESS.find((e) => all.includes(e)) ?? 'estimate';

/**
 * Bending stiffness from the strip readings along warp and weft. Cloth: D66 such that a bias strip reads 0.96 of the geometric mean; where the two
 * directions differ so much that no D66 gives that, and for felts and solids, Huber's D66 = (1 - nu)/2 sqrt(D11 D22), which for equal directions is the
 * isotropic (D11 - D12)/2. Source: Huber 1923 (from memory).
 */
function bendingOf(warp: number, weft: number, nu: number, cloth: boolean): Four {
  const [d11, d22, d12] = fromStrips(warp, weft, nu, 0);
  const twist = cloth ? twistFromBias(d11, d22, d12, BIAS * Math.sqrt(warp * weft)) : null;
  return [d11, d22, d12, twist ?? (Math.sqrt(d11 * d22) * (1 - nu)) / 2];
}

/**
 * Factor by which thickness t changes figures given at t0: solids rescale B as t^3, mass and in-plane as t (one piece of one modulus); cloth and felt
 * keep theirs, because their rigidity is not E t^3/12, and only take up more room.
 */
function thicknessScale(bands: MaterialBands, t: number): number {
  return bands.class === 'solid' || bands.class === 'sheet' ? t / bands.thickness[1] : 1;
}

/**
 * The sheet of a built-in material. Low and high take the ends of the bands of rigidity and in-plane stiffness together; mass and thickness stay at the
 * middle, because a kitchen scale and a ruler settle them. A written range of thickness ("3-4 oz") moves the ends of the rigidity band as well.
 * Which direction is stiffer is not known for a preset: warp is assumed, B_warp = B sqrt r, B_weft = B/sqrt r.
 */
function presetSheet(bands: MaterialBands, layer: Layer, band: Band): Sheet {
  const i = INDEX[band];
  const thickness = layer.thickness ?? bands.thickness[1];
  const atBand = layer.thicknessRange === null ? thickness : ([layer.thicknessRange[0], thickness, layer.thicknessRange[1]] as const)[i];
  const size = thicknessScale(bands, thickness);
  const sizeAtBand = thicknessScale(bands, atBand);
  const b = bands.bending[i] * libm.cube(sizeAtBand);
  const skew = Math.sqrt(bands.stiffOverSoft[1]);
  const c = bands.inPlane[i] * sizeAtBand;
  return {
    name: bands.name,
    arealMass: bands.arealMass[1] * size,
    thickness,
    bending: bendingOf(b * skew, b / skew, bands.poisson, bands.class === 'cloth'),
    inPlane: fromStrips(c, c, bands.poisson, bands.shear[i] * sizeAtBand),
    evidence: bands.evidence,
    basis: bands.status,
    softCore: bands.class === 'felt' || bands.id === 'pefoam',
  };
}

const ratio = (band: Three, i: 0 | 1 | 2): number => band[i] / band[1];

/** The sheet of a material of the bag file's own; figures that it leaves out come from the preset it is `like`. */
function ownSheet(own: OwnMaterial, layer: Layer, band: Band): Sheet {
  const i = INDEX[band];
  const like = own.like === null ? null : materialBands(own.like);
  const need = <T>(value: T | null | undefined): T => {
    if (value === null || value === undefined) throw new Error(`material "${own.id}" is incomplete`);
    return value;
  };
  const nu = own.poisson ?? like?.poisson ?? 0;
  const skew = like ? Math.sqrt(like.stiffOverSoft[1]) : 1;
  // A preset's rigidity scaled to the maker's own mass would be a guess on a guess; it is taken as it stands.
  const warp = own.bendingWarp ? own.bendingWarp[i] : need(like).bending[i] * skew;
  const weft = own.bendingWeft ? own.bendingWeft[i] : need(like).bending[i] / skew;
  const c = own.inPlane ? own.inPlane[i] : need(like).inPlane[i];
  const shear = own.shear ? own.shear[i] : own.inPlane && like ? like.shear[1] * ratio(own.inPlane, i) : need(like).shear[i];
  const cloth = like ? like.class === 'cloth' : nu === 0;
  const bent: Evidence = own.bendingWarp === null ? need(like).evidence : own.measured ? 'your swatch' : 'stated';
  return {
    name: own.name,
    arealMass: own.arealMass,
    thickness: layer.thickness ?? own.thickness ?? need(like).thickness[1],
    bending: bendingOf(warp, weft, nu, cloth),
    inPlane: fromStrips(c, c, nu, shear),
    evidence: bent,
    basis: like && (own.bendingWarp === null || own.inPlane === null) ? `${own.source}; the rest as ${like.name} (${like.evidence})` : own.source,
    softCore: like !== null && like.class === 'felt',
  };
}

/** From a to b by a share of the way, by ratio where both have one. */
const between = (a: Four, b: Four, share: number): Four =>
  a.map((v, i) => (v > 0 && b[i]! > 0 ? v * libm.exp(share * libm.log(b[i]! / v)) : v + share * (b[i]! - v))) as unknown as Four;

/**
 * The sheet of a layer of a stack; `share`: how far it goes from the middle of its band to that end (together.ts). Asserts that its material exists, which
 * parseBag has checked.
 */
export function sheetOf(bag: Pick<Bag, 'materials'>, layer: Layer, band: Band, share = 1): Sheet {
  const end = endSheet(bag, layer, band);
  if (share === 1 || band === 'mid') return end;
  const middle = endSheet(bag, layer, 'mid');
  return { ...end, bending: between(middle.bending, end.bending, share), inPlane: between(middle.inPlane, end.inPlane, share) };
}

function endSheet(bag: Pick<Bag, 'materials'>, layer: Layer, band: Band): Sheet {
  const own = bag.materials.find((m) => m.id === layer.material);
  if (own) return ownSheet(own, layer, band);
  const bands = materialBands(layer.material);
  if (!bands) throw new Error(`unknown material "${layer.material}"`);
  return presetSheet(bands, layer, band);
}
