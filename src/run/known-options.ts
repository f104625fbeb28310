import { nearestWord } from '../bag/index.ts';
import { BagError, type Fault } from '../bag/types.ts';

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
  'onWord',
  'onUnchecked',
  'until',
  'corners',
] as const;
/** What making a scene ready may be asked: the same options may be handed to both. */
export const SCENE_KEYS = [...PREVIEW_KEYS, 'band'] as const;

/** What sweeps and changes may be asked. */
export const SERIES_KEYS = ['option', 'stance', 'edgeLength', 'onProgress'] as const;
export const NEED_KEYS = [...SERIES_KEYS, 'panels', 'wanted', 'eachPanel', 'softBolt', 'mass'] as const;
export const CHOOSE_KEYS = [...SERIES_KEYS, 'by', 'keep', 'most', 'wanted', 'bolt', 'known', 'onSettled'] as const;
export const SWEEP_KEYS = [...SERIES_KEYS, 'strap', 'from', 'to', 'steps', 'load', 'pictures', 'drop', 'onStep'] as const;

/** What whatever runs in turns or elsewhere may be asked besides. */
export const RUN_KEYS = ['signal', 'executor'] as const;
/** What preview() may be asked besides. */
export const ASYNC_KEYS = [...RUN_KEYS, 'ahead'] as const;

/** What an option must be, where its own look-up does not tell. */
const KINDS: Readonly<Record<string, 'function' | 'boolean'>> = {
  onProgress: 'function',
  onStep: 'function',
  onSettled: 'function',
  executor: 'function',
  now: 'function',
  onWord: 'function',
  onUnchecked: 'function',
  drop: 'function',
  ahead: 'boolean',
  skipNudge: 'boolean',
  everyNudge: 'boolean',
  askAgain: 'boolean',
  corners: 'boolean',
  pictures: 'boolean',
  eachPanel: 'boolean',
  softBolt: 'boolean',
};
const EXPECTED = { function: 'a function', boolean: 'true or false' } as const;

/**
 * Passes options of which every key is known and of its kind. A program without types would otherwise get an answer to another question than it asked ("optionn" settled the
 * first option). Throws BagError with every fault: unknown keys with what was likely meant, and values of another kind.
 */
export function assertKnown(o: unknown, keys: readonly string[]): void {
  if (typeof o !== 'object' || o === null)
    throw new BagError([{ path: 'options', got: JSON.stringify(o) ?? String(o), expected: `an object with ${keys.join(', ')}` }]);
  const faults = Object.entries(o).flatMap(([key, value]): Fault[] => {
    if (!keys.includes(key)) {
      const guess = nearestWord(key, keys);
      return [{ path: key, got: 'an unknown option', expected: guess === null ? `one of ${keys.join(', ')}` : `"${guess}"?` }];
    }
    const kind = KINDS[key];
    if (kind === undefined || value === undefined || typeof value === kind) return [];
    return [{ path: key, got: JSON.stringify(value) ?? String(value), expected: EXPECTED[kind] }];
  });
  if (faults.length > 0) throw new BagError(faults);
}
