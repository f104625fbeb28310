/** Sizes at which the templates are tested. */
import fc from 'fast-check';

/** Ranges in mm (ratio in hundredths) within which the pattern is drawn anew; wider than any bag sewn to it. */
const RANGES: Readonly<Record<string, Readonly<Record<string, readonly [number, number]>>>> = {
  'flat-tote': { W: [100, 600], H: [100, 600] },
  'boxed-tote': { W: [150, 600], H: [120, 600], D: [30, 220] },
  satchel: { W: [200, 480], H: [150, 400], D: [30, 160], R: [5, 70] },
  bucket: { d: [80, 320], H: [80, 450] },
  'drawstring-pouch': { W: [80, 260], H: [80, 300], D: [20, 90] },
  'envelope-clutch': { W: [150, 380], H: [90, 220], D: [20, 90] },
  crescent: { W: [280, 520], H: [220, 450] },
  'barrel-duffel': { d: [140, 360], L: [250, 700] },
  backpack: { W: [200, 380], H: [320, 560], D: [50, 180], R: [10, 75] },
  'gathered-tote': { W: [200, 480], H: [180, 480], D: [80, 220], R: [5, 35], ratio: [150, 250] },
  'piped-tote': { W: [150, 600], H: [120, 600], D: [70, 220] },
  'frame-bag': { W: [120, 400], H: [100, 350], D: [50, 180] },
};

/** Sizes of a template in its ranges, as parameters are written. */
export const overridesOf = (name: string): fc.Arbitrary<Record<string, string>> =>
  fc
    .record(Object.fromEntries(Object.entries(RANGES[name]).map(([key, [min, max]]) => [key, fc.integer({ min, max })])))
    .map((r) => Object.fromEntries(Object.entries(r).map(([key, v]) => [key, key === 'ratio' ? String(v / 100) : `${v} mm`])));
