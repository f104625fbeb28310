import { bodyKernel } from './contact/body/door.ts';
import { commitPairs } from './contact/cloth/pair-force.ts';
import { activate } from './contact/cloth/pairs.ts';
import { findingPairs, truncatePairs } from './contact/cloth/truncate.ts';
import { commitSpans } from './contact/edge-face/span-force.ts';
import { truncateSpans } from './contact/edge-face/span-steps.ts';
import { clearMemory, type FrictionMemory, restoreMemory, type SavedMemory, saveMemory } from './contact/friction-memory.ts';
import { commitFriction, truncateAtSupports } from './contact/support/support.ts';
import { commitCords, putBackCords, type SavedCords, saveCords } from './elastic/cords.ts';
import type { System } from './system.ts';
import { toEnd, type Work } from './work.ts';

/** What every family of contacts does before a step, after it, and once it is accepted; and what friction remembers of all of them. */

/** Finds what touches at x, without a step: before the first forces() of a run. */
export const findContacts = (sys: System, x: Float64Array): void => toEnd(findingContacts(sys, x));

/** The same in steps. */
export function* findingContacts(sys: System, x: Float64Array): Work<void> {
  if (!sys.pairs) return;
  yield* findingPairs(sys.pairs, x, new Float64Array(x.length));
  yield;
  activate(sys.pairs, x);
}

/** Shortens the step d (mutated) so that neither a support nor the sheet itself is passed through. */
export function limitStep(sys: System, x: Float64Array, d: Float64Array): void {
  truncateAtSupports(sys.contact, x, d);
  if (sys.spans) truncateSpans(sys.spans, x, d);
  if (sys.bodies) bodyKernel().cutAtBodies(sys.bodies, x, d);
  if (sys.pairs) truncatePairs(sys.pairs, x, d);
  if (sys.bodies) bodyKernel().slowBodies(sys.bodies, x, d);
}

/** Finds what touches at x, the end (or the start) of the step last limited. */
export function activateContacts(sys: System, x: Float64Array): void {
  if (sys.pairs) activate(sys.pairs, x);
}

/** Friction anchors follow the accepted state x, and cords in their channels. */
export function updateAnchors(sys: System, x: Float64Array): void {
  if (sys.el.cords) commitCords(sys.el.cords, sys.el.cables!, x);
  commitFriction(sys.contact, x);
  if (sys.spans) commitSpans(sys.spans, x);
  if (sys.pairs) commitPairs(sys.pairs, x);
  if (sys.bodies) bodyKernel().commitBodies(sys.bodies, x);
}

/** Every family of contacts that remembers by key: cloth on cloth, supports and bodies between the sheet's points. */
const keyed = (sys: System): FrictionMemory[] => [sys.pairs?.memory, sys.spans?.memory, sys.bodies?.spans.memory].filter((m) => !!m);

/** What friction remembers: the anchor of each vertex on each support, and the tangential stretch of each touching pair. */
export interface FrictionState {
  readonly anchors: readonly Float64Array[];
  readonly keyed: readonly SavedMemory[];
  readonly bodies: readonly Float64Array[];
  /** Of cords; null without any. */ readonly cords: SavedCords | null;
}

/** Copy of the friction state as it is, to be restored with the positions it belongs to. */
export const frictionState = (sys: System): FrictionState => ({
  anchors: sys.contact.anchors.map((a) => a.slice()),
  keyed: keyed(sys).map(saveMemory),
  bodies: (sys.bodies?.slots ?? []).map((s) => s.memory.slice()),
  cords: sys.el.cords && saveCords(sys.el.cords, sys.el.cables!),
});

/** Nothing sticks yet: for a start of its own. */
export function resetFriction(sys: System): void {
  for (const a of sys.contact.anchors) a.fill(Number.NaN);
  for (const m of keyed(sys)) clearMemory(m);
  for (const s of sys.bodies?.slots ?? []) s.memory.fill(Number.NaN);
}

/** Back to the state x with the friction it was left with; forces() then gives that state's forces again. */
export function restoreState(sys: System, x: Float64Array, friction: FrictionState): void {
  sys.contact.anchors.forEach((a, s) => {
    a.set(friction.anchors[s]!);
  });
  keyed(sys).forEach((m, i) => {
    restoreMemory(m, friction.keyed[i]!);
  });
  sys.bodies?.slots.forEach((s, i) => {
    s.memory.set(friction.bodies[i]!);
  });
  if (friction.cords) putBackCords(sys.el.cords!, sys.el.cables!, friction.cords);
  findContacts(sys, x);
}
