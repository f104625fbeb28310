import type { Bag } from '../bag/types.ts';
import { UnionFind } from '../numerics/index.ts';
import { advised, type FindingList } from './findings.ts';
import type { Draft } from './types.ts';

/** Cloth that is looked at, not a bag: clipped up in every stance, or laid over forms. */
const isStudy = (bag: Bag): boolean =>
  bag.stances.every((s) => s.kind === 'held') || bag.stances.some((s) => s.kind === 'standing' && (s.ground?.forms.length ?? 0) > 0);

/**
 * Panels that no seam joins to the bag: several panels without a seam, a panel by itself beside sewn ones, two sewn groups. A study in which nothing is
 * sewn, and panels whose place the file states (pose) or that are clipped, may lie loose. false when there is nothing sewn to look at further.
 */
export function checkPieces(bag: Bag, draft: Draft, findings: FindingList): boolean {
  const together = new UnionFind(draft.panels.length);
  const sewn = draft.panels.map(() => false);
  for (const { sides } of draft.seams)
    for (const side of sides)
      for (const run of side.runs) {
        sewn[run.panel] = true;
        together.join(sides[0].runs[0].panel, run.panel);
      }
  const placed = (p: number): boolean => bag.panels[p].pose !== null || bag.panels[p].clips.length > 0;
  const study = isStudy(bag);
  if (draft.seams.length === 0) {
    const loose = bag.panels.filter((_, p) => !placed(p));
    if (bag.panels.length > 1 && loose.length > 0 && !study)
      findings.fault(
        advised(
          { kind: 'no seams', panel: loose[0].name, edge: null, seam: null, value: bag.panels.length, figure: `${bag.panels.length} panels` },
          `The bag has ${bag.panels.length} panels and no seam: ${listed(bag.panels.map((p) => p.name))} would fall apart.`,
          '"seams" that sew them together, or a stance with "forms" where cloth is to be laid over something',
        ),
      );
    return false;
  }
  const groups = new Map<number, number[]>();
  draft.panels.forEach((_, p) => {
    groups.set(together.find(p), [...(groups.get(together.find(p)) ?? []), p]);
  });
  const area = (group: readonly number[]): number => group.reduce((sum, p) => sum + draft.panels[p].area, 0);
  const [main, ...others] = [...groups.values()].sort((a, b) => Number(sewn[b[0]]) - Number(sewn[a[0]]) || area(b) - area(a) || a[0] - b[0]);
  const held = bag.stances.every((s) => s.kind === 'held');
  for (const group of others.sort((a, b) => a[0] - b[0])) {
    if (held || group.every(placed)) continue;
    const names = group.map((p) => draft.panels[p].name);
    const rest = listed(main.map((p) => draft.panels[p].name));
    const where = { panel: names[0], edge: null, seam: null, value: group.length, figure: `${group.length} of ${draft.panels.length} panels` };
    if (!sewn[group[0]])
      findings.fault(
        advised(
          { ...where, kind: 'loose panel' },
          `No seam takes up panel ${names[0]}: it lies loose beside ${rest}.`,
          'a seam that sews it on, a "pose" that says where it lies, or the panel left out of the file',
        ),
      );
    else
      findings.fault(
        advised(
          { ...where, kind: 'sewn apart', seam: draft.seams.find((s) => group.includes(s.sides[0].runs[0].panel))!.name },
          group.length === 1
            ? `No seam joins panel ${names[0]}, sewn to itself alone, to ${rest}.`
            : `${listed(names)} are sewn to one another, but no seam joins them to ${rest}.`,
          'one bag: a seam between the two, or a file for each',
        ),
      );
  }
  return true;
}

/** "a, b and c", at most six by name. */
export function listed(names: readonly string[]): string {
  if (names.length > 6) return `${names.slice(0, 5).join(', ')} and ${names.length - 5} more`;
  return names.length === 1 ? names[0] : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
}
