import { finishesIn } from '../bag/index.ts';
import type { Bag } from '../bag/types.ts';
import { type BagLaminates, keptWidth, layUp, memberWords, thinned } from '../material/index.ts';
import { type Finding, millimetres } from '../panels/index.ts';
import type { Draft } from '../panels/types.ts';
import { crossedCord } from './crossed-cords.ts';
import { bulkOf, catcher } from './seam-bulk.ts';

/** Thickest seam that goes under the foot of a household machine, m (common practice, no source). */
const FOOT = 0.006;
/** Thicknesses of the stack that an allowance must be wide to be turned and stay turned (common practice, no source). */
const TURNED = 3;
/** Thicknesses of the stack that the cloth taken up by a fold must be wide for a crease rather than a roll (common practice, no source). */
const CREASED = 2;

/**
 * Stacks too thick to turn, over every option at the middle of the band: for each seam and fold line the option that is worst.
 *   plain, turned: allowance under 3 thicknesses of the thicker panel; fold: cloth taken up under 2 thicknesses; any seam over 6 mm at its thickest (then
 *   the allowance is not spoken of as well), or with the cord that it crosses at an end (crossed-cords.ts); a turned edge under 3 thicknesses.
 * An allowance is as thick as what it catches: foam, fleece and boards are cut out of it unless the file says otherwise (caughtIn).
 * Regions are left out: the panel's own stack is what reaches most of its edges. Findings name panel, edge, option and figure. Never throws.
 */
export function checkBulk(bag: Bag, draft: Draft): readonly Finding[] {
  const lays = bag.options.map((o) => ({ option: o.name, laminates: layUp(bag, o.name, 'mid') }));
  const several = lays.length > 1;
  const found: Finding[] = [];
  const thickness = (laminates: BagLaminates, p: number): number => laminates[p][0].thickness;
  const caughtOf = catcher(bag);
  const sideOf = (laminates: BagLaminates, p: number) => ({ caught: caughtOf(laminates[p][0].stack).thickness, panel: thickness(laminates, p) });
  draft.seams.forEach((seam, s) => {
    const { type } = bag.seams[s],
      allowance = keptWidth(bag.seams[s]);
    const worst = worstOf(
      lays.flatMap(({ option, laminates }) =>
        seam.sides[0].runs.flatMap((a) =>
          seam.sides[1].runs.map((b) => {
            const [t, u] = [a, b].map((r) => {
              const side = sideOf(laminates, r.panel);
              return { ...side, caught: thinned(bag.seams[s], side.caught).line };
            });
            const cut = [...new Set([a, b].flatMap((r) => caughtOf(laminates[r.panel][0].stack).cutOut))];
            const inner = [a, b].some((r) => caughtOf(laminates[r.panel][0].stack).layers > 1);
            // What is turned is the allowance; what is folded is the panel.
            const of = type === 'fold' ? 'panel' : 'caught';
            return { option, run: t[of] >= u[of] ? a : b, thick: Math.max(t[of], u[of]), bulk: bulkOf(type, t, u), inner, cut };
          }),
        ),
      ),
    );
    if (!worst) return;
    const panel = draft.panels[worst.run.panel];
    const edge = panel.edges[worst.run.edge].name;
    const where = { kind: 'too thick', panel: panel.name, edge, seam: seam.name } as const;
    const withOption = several ? ` with "${worst.option}"` : '';
    const need = type === 'fold' ? CREASED * worst.thick : type === 'plain' || type === 'turned' ? TURNED * worst.thick : 0;
    if (worst.bulk > FOOT)
      found.push({
        ...where,
        value: worst.bulk,
        figure: millimetres(worst.bulk),
        text: `Seam ${seam.name} is ${millimetres(worst.bulk)} thick beside ${panel.name}.${edge}${withOption}${worst.cut.length > 0 ? `, ${worst.cut.join(' and ')} cut out of its allowance` : ''}: over ${millimetres(FOOT)} does not go under the foot of a household machine; ${worst.inner ? 'cut the inner layers back to the stitch line' : 'skive the edges, or lap the seam'}.`,
      });
    const cord = crossedCord(bag, draft, s, allowance);
    if (cord && worst.bulk <= FOOT && worst.bulk + cord.size > FOOT)
      found.push({
        ...where,
        value: worst.bulk + cord.size,
        figure: millimetres(worst.bulk + cord.size),
        text: `Seam ${seam.name} is ${millimetres(worst.bulk + cord.size)} thick where it crosses member ${cord.member.name}, ${memberWords(cord.member)}${withOption}: over ${millimetres(FOOT)} does not go under the foot of a household machine; cut the cord out of the allowance ("stops short").`,
      });
    if (worst.bulk <= FOOT && allowance > 0 && allowance < need * (1 - 1e-9))
      found.push({
        ...where,
        value: worst.thick,
        figure: `${millimetres(worst.thick)} in ${millimetres(allowance)}`,
        text: `${panel.name}.${edge} is ${millimetres(worst.thick)} thick${withOption}: an allowance of ${millimetres(allowance)} in seam ${seam.name} is too narrow to ${type === 'fold' ? 'fold' : 'turn'} it, ${millimetres(need)} or more does it.`,
      });
  });
  (bag.finishes ?? []).forEach(({ panel, edge }, f) => {
    const p = bag.panels.findIndex((q) => q.name === panel);
    const narrow = lays.flatMap(({ option, laminates }, o) => {
      const { finish, width } = finishesIn(bag, bag.options[o])[f],
        thick = caughtOf(laminates[p][0].stack).thickness;
      return finish.startsWith('turned') && width < TURNED * thick * (1 - 1e-9) ? [{ option, thick, width }] : [];
    });
    const worst = worstOf(narrow);
    if (!worst) return;
    const need = TURNED * worst.thick,
      { width } = worst;
    found.push({
      kind: 'too thick',
      panel,
      edge,
      seam: null,
      value: worst.thick,
      figure: `${millimetres(worst.thick)} in ${millimetres(width)}`,
      text: `${panel}.${edge} is ${millimetres(worst.thick)} thick${several ? ` with "${worst.option}"` : ''}: ${millimetres(width)} is too narrow to turn it, ${millimetres(need)} or more does it.`,
    });
  });
  bag.panels.forEach((panel, p) => {
    for (const line of panel.lines) {
      const worst = worstOf(lays.map(({ option, laminates }) => ({ option, thick: thickness(laminates, p) })));
      if (!worst || line.fold === null || line.fold.width === 0 || line.fold.width >= CREASED * worst.thick * (1 - 1e-9)) continue;
      found.push({
        kind: 'too thick',
        panel: panel.name,
        edge: line.name,
        seam: null,
        value: worst.thick,
        figure: `${millimetres(worst.thick)} over ${millimetres(line.fold.width)}`,
        text: `${panel.name} is ${millimetres(worst.thick)} thick${several ? ` with "${worst.option}"` : ''}: its fold line ${line.name} takes up ${millimetres(line.fold.width)}, too little for a crease; score it (fold 0) or give it ${millimetres(CREASED * worst.thick)}.`,
      });
    }
  });
  return found;
}

const worstOf = <T extends { readonly thick: number }>(list: readonly T[]): T | null =>
  list.reduce<T | null>((worst, item) => (worst === null || item.thick > worst.thick ? item : worst), null);
