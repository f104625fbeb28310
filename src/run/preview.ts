/** previewBag() and prepare() with everything they may need at hand; settle-bag.ts leaves to its caller how rigid contents are let fall. */
import type { Bag } from '../bag/types.ts';
import type { Result } from '../report/types.ts';
import { readyForArcs } from '../solver/arcs.ts';
import { toEnd } from '../solver/index.ts';
import { drop } from '../solver/rigid.ts';
import { assertKnown, PREVIEW_KEYS, SCENE_KEYS } from './known-options.ts';
import { prepareScene, type Scene, type SceneOptions } from './scene.ts';
import { type PreviewOptions, settlingBag } from './settle-bag.ts';

/** Drafts, meshes, lays up and assembles. Throws BagError for an unknown option or stance. Deterministic. */
export function prepare(bag: Bag, o: SceneOptions = {}): Scene {
  assertKnown(o, SCENE_KEYS);
  readyForArcs();
  return prepareScene(bag, { drop, ...o });
}

/**
 * The way of a parsed bag: Bag -> verdict with its reasons. One option, one stance, one to three ends of the band.
 * Throws BagError for bad input, Cancelled when onProgress returned false. Same input, same numbers (apart from `seconds`).
 */
export function previewBag(bag: Bag, o: PreviewOptions = {}): Result {
  assertKnown(o, PREVIEW_KEYS);
  readyForArcs();
  return toEnd(settlingBag(bag, { drop, ...o }));
}
