import type { Bag } from '../core.ts';

/** The stance in which a bag is shown first: one without a base hangs where it can, because on a table it only lies there; any other as its file says first. */
export function openingStance({ panels, seams, stances }: Bag): string {
  // A seam of a panel with itself makes a boxed corner, and four of them a base.
  const boxed = seams.some((s) => new Set(s.sides.flat().map((run) => run.panel)).size === 1);
  const based = boxed || panels.some((p) => p.role === 'base' || p.role === 'gusset' || p.role === 'side' || p.role === 'flat');
  const hung = based ? undefined : stances.find((s) => s.kind === 'hung');
  return (hung ?? stances[0]).name;
}
