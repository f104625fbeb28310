/** The built-in materials by name alone: apart from presets.ts, so that a page that only offers them loads no figures. */
import { type Family, PRESET_NAMES } from './data/preset-names.ts';

export interface PresetName {
  readonly id: string;
  readonly name: string;
  readonly family: Family;
}

/** Names and kinds of the built-in materials, in the order of the lists, without their figures. */
export const presetNames = (): readonly PresetName[] => Object.entries(PRESET_NAMES).map(([id, [family, name]]) => ({ id, name, family }));
