import { listed } from './check-topology-pieces.ts';
import { advised, type FindingList, millimetres } from './findings.ts';
import type { StretchMember } from './seam-stretches.ts';
import { CUTTING_TOLERANCE } from './seams.ts';
import type { Surface } from './surface.ts';
import type { Draft } from './types.ts';

/**
 * Stretches in which three or more sheets of the body lie on one another: an edge that two seams sew to different edges. A fault, unless one written seam
 * says so itself by three sides; a layer that is meant to hang in the bag has the role of a pocket or trim, or is one the bag is closed without.
 */
export function checkLayers(draft: Draft, { seamStretches, body, breakpoints }: Surface, findings: FindingList): void {
  const told = new Set<string>();
  const key = (m: StretchMember): string => `${m.panel}:${m.edge}:${m.interval}`;
  const nameOf = (m: StretchMember): string => `${draft.panels[m.panel].name}.${draft.panels[m.panel].edges[m.edge].name}`;
  const lengthOf = (m: StretchMember): number => {
    const list = breakpoints[m.panel][m.edge];
    return (list[m.interval + 1] - list[m.interval]) * draft.panels[m.panel].edges[m.edge].length;
  };
  const joins = new Map<string, { readonly seam: number; readonly other: StretchMember }[]>();
  seamStretches.pairs.forEach((pairs, seam) => {
    for (const [a, b] of pairs)
      for (const [own, other] of [
        [a, b],
        [b, a],
      ])
        joins.set(key(own), [...(joins.get(key(own)) ?? []), { seam, other }]);
  });
  for (const { members } of seamStretches.list) {
    const sheets = members.filter((m) => body[m.panel]);
    const id = sheets.map(nameOf).sort().join(' ');
    const length = Math.max(0, ...sheets.map(lengthOf));
    if (sheets.length < 3 || length <= CUTTING_TOLERANCE || told.has(id)) continue;
    told.add(id);
    const seams = [...new Set(members.flatMap((m) => (joins.get(key(m)) ?? []).map((j) => j.seam)))].sort((a, b) => a - b);
    const twice = sheets.find((m) => (joins.get(key(m)) ?? []).length > 1) ?? sheets[0];
    const to = (joins.get(key(twice)) ?? []).map(({ seam, other }) => `to ${nameOf(other)} by seam ${draft.seams[seam].name}`);
    const last = seams[seams.length - 1];
    const finding = advised(
      {
        kind: 'sewn over',
        panel: draft.panels[twice.panel].name,
        edge: draft.panels[twice.panel].edges[twice.edge].name,
        seam: draft.seams[last].name,
        value: length,
        figure: `${millimetres(length)}, ${sheets.length} panels`,
      },
      `${nameOf(twice)} is sewn ${to.length > 1 ? `${to.length === 2 ? 'twice' : `${to.length} times`} over: ${listed(to)}` : to[0]}; ${sheets.length} edges of the body lie in one seam there, ${millimetres(length)} long.`,
      `each edge of the body in one seam, or the role "pocket" or "trim" for a panel that is a layer of its own`,
    );
    const written = (s: number): string => draft.seams[s].name.replace(/\+\d+$/, '');
    if (seams.every((s) => written(s) === written(last))) findings.warning(finding);
    else findings.fault(finding);
  }
}
