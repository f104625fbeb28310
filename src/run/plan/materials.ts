/** A material with one of its figures put in another place of its band, as a material of the file's own. */
import type { Bag, Layer, Three } from '../../bag/types.ts';
import { materialBands } from '../../material/index.ts';
import { libm } from '../../numerics/index.ts';
import { type Figures, tidy } from './values.ts';

/** What of a material can be varied. band: bending, in-plane and shear together, -1 its soft end, 0 its middle, 1 its stiff end. */
export const MATERIAL_PROPERTIES = ['bending', 'in-plane', 'shear', 'mass', 'band'] as const;
export type MaterialProperty = (typeof MATERIAL_PROPERTIES)[number];

/** Materials that the stacks of a bag are made of. */
export const materialsOf = (bag: Bag): string[] => [...new Set(bag.stacks.flatMap((s) => (s.kind === 'layers' ? s.layers.map((l) => l.material) : [])))];

/** Low, middle and high of a material's figures, SI, of its nominal thickness; bending as the geometric mean of warp and weft. */
interface Nominal {
  readonly mass: Three;
  readonly bending: Three;
  /** Root of stiffer over softer direction. */ readonly skew: number;
  readonly inPlane: Three;
  readonly shear: Three;
  readonly thickness: number;
  /** One piece: another thickness is another rigidity. */ readonly solid: boolean;
}

function nominalOf(bag: Bag, id: string): Nominal {
  const own = bag.materials.find((m) => m.id === id),
    like = materialBands(own ? (own.like ?? '') : id);
  const need = <T>(v: T | null | undefined): T => {
    if (v === null || v === undefined) throw new Error(`material "${id}" is incomplete`);
    return v;
  };
  const usual = like && {
    mass: like.arealMass,
    bending: like.bending,
    skew: Math.sqrt(like.stiffOverSoft[1]),
    inPlane: like.inPlane,
    shear: like.shear,
    thickness: like.thickness[1],
    solid: like.class === 'solid' || like.class === 'sheet',
  };
  if (!own) return need(usual);
  const { bendingWarp: warp, bendingWeft: weft } = own;
  return {
    mass: [own.arealMass, own.arealMass, own.arealMass],
    bending: warp && weft ? ([0, 1, 2].map((i) => Math.sqrt(warp[i]! * weft[i]!)) as unknown as Three) : need(usual).bending,
    skew: warp && weft ? Math.sqrt(warp[1] / weft[1]) : need(usual).skew,
    inPlane: own.inPlane ?? need(usual).inPlane,
    // As ownSheet has it: where only the in-plane stiffness is its own, the shear goes along.
    shear: own.shear ?? (own.inPlane && usual ? (own.inPlane.map((c) => (usual.shear[1] * c) / own.inPlane![1]) as unknown as Three) : need(usual).shear),
    thickness: own.thickness ?? need(usual).thickness,
    solid: false,
  };
}

/** Figures that a material's property takes, with its band. */
export function bandOf(bag: Bag, id: string, property: MaterialProperty): Figures {
  const n = nominalOf(bag, id);
  switch (property) {
    case 'bending':
      return { kind: 'bending', usual: null, min: 1e-12, max: 1e4, byRatio: true, band: n.bending };
    case 'in-plane':
      return { kind: 'inPlane', usual: null, min: 1e-6, max: 1e9, byRatio: true, band: n.inPlane };
    case 'shear':
      return { kind: 'inPlane', usual: null, min: 1e-6, max: 1e9, byRatio: true, band: n.shear };
    case 'mass':
      return { kind: 'arealMass', usual: null, min: 1e-4, max: 20, byRatio: true, band: n.mass };
    default:
      return { kind: 'number', usual: '', min: -1, max: 1, byRatio: false, band: [-1, 0, 1] };
  }
}

const ratioTo = (band: Three, share: number): number => (share === 0 ? 1 : libm.exp(Math.abs(share) * libm.log(band[share < 0 ? 0 : 2] / band[1])));
const all = (v: number): Three => [v, v, v];

/** The form of a material of the file's own, in SI units as text. */
export type WrittenMaterial = Readonly<Record<string, unknown>>;

/**
 * The material of one layer with some of its figures stated (SI, of the nominal thickness): an entry for "materials" of a bag file. What is not stated keeps its band. A solid
 * in another gauge than its table's has its mass and in-plane stiffness times the ratio of thicknesses and its rigidity times the cube, as layUp has it (material/layers.ts); a
 * gauge that is a range ("3-4 oz") widens the band of what is not stated.
 */
export function statedMaterial(bag: Bag, layer: Layer, stated: Readonly<Partial<Record<MaterialProperty, number>>>): WrittenMaterial {
  const own = bag.materials.find((m) => m.id === layer.material),
    n = nominalOf(bag, layer.material),
    thickness = layer.thickness ?? n.thickness,
    size = n.solid ? thickness / n.thickness : 1,
    range = layer.thicknessRange,
    sizes: Three = n.solid && range ? [range[0] / n.thickness, size, range[1] / n.thickness] : all(size);
  const along = (band: Three, power: (s: number) => number): Three => band.map((v, i) => v * power(sizes[i]!)) as unknown as Three;
  const at = (band: Three, value: number | undefined, power: (s: number) => number): Three => {
    if (value !== undefined) return all(value * power(size));
    const whole = along(band, power);
    return stated.band === undefined ? whole : all(whole[1] * ratioTo(whole, stated.band));
  };
  const linear = (s: number): number => s,
    bending = at(n.bending, stated.bending, libm.cube),
    list = (band: Three, unit: string): string[] => band.map((v) => `${tidy(v)} ${unit}`);
  return {
    name: own?.name ?? materialBands(layer.material)?.name ?? layer.material,
    ...(own ? (own.like === null ? {} : { like: own.like }) : { like: layer.material }),
    mass: `${tidy((stated.mass ?? n.mass[1]) * size)} kg/m2`,
    thickness: `${tidy(own ? n.thickness : thickness)} m`,
    bending: {
      warp: list(bending.map((v) => v * n.skew) as unknown as Three, 'N.m'),
      weft: list(bending.map((v) => v / n.skew) as unknown as Three, 'N.m'),
    },
    'in-plane': list(at(n.inPlane, stated['in-plane'], linear), 'N/m'),
    shear: list(at(n.shear, stated.shear, linear), 'N/m'),
    ...(own?.poisson === null || own?.poisson === undefined ? {} : { poisson: own.poisson }),
    source: 'stated for this run',
  };
}
