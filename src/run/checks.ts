import type { Bag } from '../bag/types.ts';
import { judgeBand, nearItsLimit } from '../report/index.ts';
import type { Again, BandRun, Corners } from '../report/types.ts';
import type { Work } from '../solver/index.ts';
import { type BandOptions, runBand } from './band-run.ts';
import { pressedWhereAsked } from './corners.ts';
import { EDGE_RANGE, usualEdge } from './mesh-size.ts';
import { preparing, type SceneOptions, SEED } from './scene.ts';

/** What a run may be asked once more. */
export type CheckKind = 'again' | 'corners';

/** A run of the middle once more: on another mesh and from another start, or with its corners pressed. */
export interface Check {
  readonly kind: CheckKind;
  readonly bag: Bag;
  readonly edgeLength: number | undefined;
  readonly seed: number | undefined;
}

/** How a check is told while it runs. */
export const CHECK_STAGE: Readonly<Record<CheckKind, string>> = { again: 'on a second mesh', corners: 'corners pressed' };

/** Which checks are wanted of whom they may be asked. */
export interface ChecksAsked extends Pick<SceneOptions, 'edgeLength' | 'seed'> {
  readonly askAgain?: boolean;
  readonly corners?: boolean;
  readonly skipNudge?: boolean;
}

/** The second mesh's edge over the first one's: fine enough to be another mesh, near enough to be of its kind. */
const FINER = 0.85;

/** What the middle's run is asked once more: where its margin says too little, or a crease may change its word. They hang neither on one another nor on who runs them. */
export function checksOf(bag: Bag, run: BandRun, { askAgain, corners, skipNudge, edgeLength, seed }: ChecksAsked): readonly Check[] {
  if (run.band !== 'mid' || skipNudge) return [];
  const finer = Math.max(EDGE_RANGE.from, FINER * (edgeLength ?? usualEdge(bag))),
    pressed = corners === false ? null : pressedWhereAsked(bag, run);
  return [
    ...(askAgain !== false && nearItsLimit(run) ? [{ kind: 'again', bag, edgeLength: finer, seed: (seed ?? SEED) + 1 } as const] : []),
    ...(pressed ? [{ kind: 'corners', bag: pressed, edgeLength, seed } as const] : []),
  ];
}

/** What a check's own run says of the run that it was asked for. */
export type Checked = { readonly again: Again } | { readonly corners: Corners };

/** Reads a check's run. */
export function checkedBy({ kind, edgeLength, seed }: Check, run: BandRun): Checked {
  const { word, margin } = judgeBand(run),
    said = { word, margin, heightKept: run.measures.heightKept };
  return kind === 'again' ? { again: { edgeLength: edgeLength!, seed: seed!, ...said } } : { corners: said };
}

/** A check run here. */
export function* checking(check: Check, o: SceneOptions, how: BandOptions): Work<Checked> {
  const { bag, edgeLength, seed, kind } = check,
    scene = yield* preparing(bag, { ...o, band: 'mid', edgeLength, seed });
  return checkedBy(check, yield* runBand(scene, { ...how, told: (at) => how.told({ ...at, stage: `${CHECK_STAGE[kind]}, ${at.stage}`, fraction: 1 }) }));
}
