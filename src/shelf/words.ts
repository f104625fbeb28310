/** The fixed words of a shelf file, and what may be used as what. */
import { CLOSURES, HARDWARE, MEMBERS, PRESET_IDS } from '../bag/index.ts';
import type { Sold, Use } from './types.ts';

/** What a material may be used as. */
export const USES = ['shell', 'fused', 'sewn in', 'lining', 'board', 'foam', 'trim'] as const satisfies readonly Use[];

/** Ways in which a price may be written. */
export const PRICED = ['per metre', 'per m2', 'per ft2', 'per sheet', 'per piece', 'per reel'] as const;

/** Interlinings with an adhesive on them, which a press fuses. Common practice, no source. */
export const FUSIBLE = /^(fus_|fleece|foam$|nwboard)/;
/** What the heat of a press harms: wax that melts, coatings and meshes that do. Common practice, no source. */
export const SHUNS_HEAT = /^(waxed|coatedcotton|packcloth|vinyl|neoprene|mesh$|spacermesh|pefoam|pp\d|ldpe|hdpe)/;
/** Sold by the metre at its own width: no material of panels. */
export const WEBBING = /^web_/;
/** Of a zip, by the piece: its slider and stops. */
export const ZIP_SLIDER = 'zip slider';
export const THREAD = 'thread';
/** What is sewn on and cut from no sheet: webbing, and what members, closures and hardware of a bag file are called there. */
export const TRIMS: readonly string[] = [
  ...new Set([...PRESET_IDS.filter((id) => WEBBING.test(id)), ...MEMBERS, ...CLOSURES, ZIP_SLIDER, ...HARDWARE, THREAD]),
].filter((kind) => kind !== 'figures' && kind !== 'other');
/** How a price is written, and what an amount is told in, by how a thing is sold; a hide's price may be per ft2 as well. */
export const PRICED_BY = {
  metre: 'per metre',
  area: 'per m2',
  sheet: 'per sheet',
  length: 'per metre',
  piece: 'per piece',
  reel: 'per reel',
} as const satisfies Record<Sold['by'], (typeof PRICED)[number]>;
export const SOLD_UNIT = { metre: 'm', area: 'm2', sheet: 'sheets', length: 'm', piece: 'pieces', reel: 'reels' } as const satisfies Record<Sold['by'], string>;

/** Trims that are mostly sold by length; the others by the piece. Common practice, no source. */
const BY_LENGTH = /^web_|cord$|wire$|boning$|binding$|zip$|^drawstring$|^cinch strap$/;
/** How a kind of trim may be sold, the usual way first. */
export const trimSoldBy = (kind: string): readonly ('length' | 'piece' | 'reel')[] =>
  kind === THREAD ? ['reel', 'length'] : BY_LENGTH.test(kind) ? ['length', 'piece'] : ['piece'];
/** Cut from hides. */
export const HIDE = /^(lamb|upholstery$|suede|chrome|veg)/;

/** Share of a hide that is lost to its shape and flaws: 25 to 35 % is common practice, no source. */
export const HIDE_WASTE = 0.3;
