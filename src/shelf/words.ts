/** The fixed words of a shelf file, and what may be used as what. */
import { CLOSURES, HARDWARE, MEMBERS, PRESET_IDS } from '../bag/index.ts';
import type { Use } from './types.ts';

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
/** Trims that are mostly sold by length; the others by the piece. Common practice, no source. */
export const BY_LENGTH = /^web_|cord$|wire$|boning$|binding$|zip$|^drawstring$|^cinch strap$|^thread$/;
/** Cut from hides. */
export const HIDE = /^(lamb|upholstery$|suede|chrome|veg)/;

/** Share of a hide that is lost to its shape and flaws: 25 to 35 % is common practice, no source. */
export const HIDE_WASTE = 0.3;
