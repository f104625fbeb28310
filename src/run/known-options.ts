import { nearestWord } from '../bag/index.ts';
import { BagError } from '../bag/types.ts';

/** What a preview may be asked; its own types say the rest. */
export const PREVIEW_KEYS = [
  'option',
  'stance',
  'edgeLength',
  'seed',
  'bands',
  'drop',
  'onProgress',
  'now',
  'skipNudge',
  'everyNudge',
  'askAgain',
  'corners',
] as const;
/** What making a scene ready may be asked: the same options may be handed to both. */
export const SCENE_KEYS = [...PREVIEW_KEYS, 'band'] as const;

/**
 * Passes options of which every key is known. A program without types would otherwise get an answer to another question than it asked ("optionn" settled the first option).
 * Throws BagError with every unknown key and what was likely meant.
 */
export function assertKnown(o: unknown, keys: readonly string[]): void {
  if (typeof o !== 'object' || o === null)
    throw new BagError([{ path: 'options', got: JSON.stringify(o) ?? String(o), expected: `an object with ${keys.join(', ')}` }]);
  const unknown = Object.keys(o).filter((key) => !keys.includes(key));
  if (unknown.length === 0) return;
  throw new BagError(
    unknown.map((key) => {
      const guess = nearestWord(key, keys);
      return { path: key, got: 'an unknown option', expected: guess === null ? `one of ${keys.join(', ')}` : `"${guess}"?` };
    }),
  );
}
