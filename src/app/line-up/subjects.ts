import { type BagMesh, type Result, solidOf, solidOfThing } from '../core.ts';
import { panelLook } from '../page/materials.ts';
import type { State } from '../page/store.ts';
import { hungSubject, sewnOf, withHandlesUp } from '../view/hanging-straps.ts';
import type { Subject } from '../view/picture.ts';
import { leadOf } from './figures.ts';
import type { Start } from './solver-protocol.ts';

type Shown = Pick<State, 'bag' | 'stance'>;

/** What a bay shows of an option on a mesh, as it stands unloaded by anything hung or put in. */
export function subjectOf({ bag, stance }: Shown, option: string, mesh: BagMesh, drafted: ArrayLike<number>, thickness: readonly number[]): Subject {
  const on = bag.stances.find((s) => s.name === stance);
  const solids = on?.kind === 'standing' ? (on.ground?.forms ?? []).map(solidOf) : [];
  const front = bag.panels.findIndex((p) => p.role === 'front');
  return {
    mesh,
    drafted,
    thickness,
    solids,
    sewn: sewnOf(bag, [], stance),
    front: Math.max(0, front),
    looks: mesh.panelNames.map((name) => panelLook(bag, option, name)),
  };
}

/** The same of a bag about to move, from its straps where it hangs. */
export const movingSubject = (shown: Shown, option: string, { mesh, drafted, thickness, straps }: Start): Subject =>
  hungSubject(subjectOf(shown, option, mesh, drafted, thickness), shown.bag, shown.stance, drafted, straps);

/** What a bay shows of a result, and where its cloth lies (3n, m; null: nowhere, as drafted). */
export function subjectOfResult(shown: Shown, result: Result): { readonly subject: Subject; readonly positions: Float64Array | null } {
  const run = leadOf(result);
  const thickness = result.mesh.panelNames.map((name) => result.stacks.find((s) => s.panel === name)?.thickness ?? 0.001);
  const cloth = subjectOf(shown, result.option, result.mesh, result.drafted, thickness);
  if (!run) return { subject: cloth, positions: null };
  const subject = result.verdict.byBand[run.band] === 'lies flat' ? { ...cloth, fallen: run.positions } : cloth;
  const full = run.contents.length > 0 ? { ...subject, solids: [...(subject.solids ?? []), ...run.contents.map(solidOfThing)] } : subject;
  const shut = run.closureLines ? { ...full, closures: run.closureLines } : full;
  const hung = hungSubject(shut, shown.bag, result.stance, run.positions, run.straps);
  const word = result.verdict.byBand[run.band];
  // The straps of a heap lie in it somewhere: only their ends are drawn.
  const up = !hung.hanging && (word === 'holds' || word === 'softens' || word === 'stands until touched');
  return { subject: up ? withHandlesUp(hung, shown.bag, run.positions) : hung, positions: run.positions };
}
