import { polygonOf } from '../bag/index.ts';
import type { Bag, EdgeRun, Hardware, Member, Panel, PanelRole, Point2, Seam, Stance } from '../bag/types.ts';
import { distanceToPolygon, insidePolygon, libm } from '../numerics/index.ts';
import { draftPanels } from '../panels/index.ts';

/** Something put on an edge or set on a panel, as one single change. */
export interface TrimChange {
  readonly change: string;
  /** Kind of what goes on. */ readonly material: string;
  readonly panels: readonly string[];
  readonly members?: readonly Member[];
  readonly hardware?: readonly Hardware[];
}

/** Usual sizes (common practice, no source). */
const IN_THE_RIM = [
  { kind: 'paper cord', size: 5e-3, change: 'pipe the rim with paper cord of 5 mm' },
  { kind: 'plastic boning', size: 8e-3, change: 'run plastic boning of 8 mm along the rim' },
  { kind: 'plastic boning', size: 8e-3, change: 'put plastic boning of 8 mm, bent to the mouth, into the rim', formed: 'sewn' },
  { kind: 'spring wire', size: 1.5e-3, change: 'put spring wire of 1.5 mm, bent to the mouth, into the rim', formed: 'sewn' },
] as const;
const PIPING = { kind: 'paper cord', size: 5e-3 } as const;
/** Feet sit this far in from the edges of the base, m (common practice, no source). */
const INWARD = 0.02;

export const WALLS: ReadonlySet<PanelRole> = new Set(['front', 'back', 'side', 'gusset', 'body']);

const member = (name: string, runs: readonly EdgeRun[], m: Pick<Member, 'kind' | 'size' | 'formed'>, stopsShort: number): Member => ({
  name,
  runs,
  rodRigidity: null,
  lineMass: null,
  stopsShort,
  ...m,
});

/** A cord, boning or wire in a bare mouth, piping in bare seams, feet under a bag that stands on its bare base: what there is already is not tried again. */
export function trimsToTry(bag: Bag, stance: Stance): TrimChange[] {
  return [...inTheRim(bag), ...pipedSeams(bag), ...onFeet(bag, stance)];
}

const wallsOf = (bag: Bag): readonly Panel[] => bag.panels.filter((p) => WALLS.has(p.role));
const named = (runs: readonly EdgeRun[]): string[] => [...new Set(runs.map((r) => r.panel))];
const bare = (bag: Bag, runs: readonly EdgeRun[]): boolean =>
  !bag.members?.some((m) => m.runs.some((a) => runs.some((b) => a.panel === b.panel && a.edge === b.edge)));

function inTheRim(bag: Bag): TrimChange[] {
  const runs = wallsOf(bag).flatMap((p) => p.openings.flatMap((o) => p.chains[o] ?? [o]).map((edge): EdgeRun => ({ panel: p.name, edge, from: 0, to: 1 })));
  if (runs.length === 0 || !bare(bag, runs)) return [];
  return IN_THE_RIM.map(({ change, ...m }) => ({ change, material: m.kind, panels: named(runs), members: [member('rim', runs, m, 0)] }));
}

/** Seams that come up to the mouth, and those round the base; a cord is cut out of their allowance at either end. */
function pipedSeams(bag: Bag): TrimChange[] {
  const role = (side: readonly EdgeRun[]): readonly PanelRole[] => side.map((r) => bag.panels.find((p) => p.name === r.panel)!.role),
    walls = (side: readonly EdgeRun[]): boolean => role(side).every((r) => WALLS.has(r)),
    base = (side: readonly EdgeRun[]): boolean => role(side).every((r) => r === 'base');
  const piped = (change: string, seams: readonly { readonly seam: Seam; readonly side: 0 | 1 }[]): TrimChange[] => {
    const open = seams.filter(({ seam }) => seam.type !== 'fold' && bare(bag, seam.sides.flat()));
    if (open.length === 0) return [];
    const members = open.map(({ seam, side }) => member(`piping, ${seam.name}`, seam.sides[side], PIPING, seam.allowance));
    return [{ change, material: PIPING.kind, panels: named(members.flatMap((m) => m.runs)), members }];
  };
  const upright = bag.seams.filter(({ sides }) => sides.every(walls) && sides[0].some((r) => meetsMouth(bag, r)));
  const round = bag.seams.flatMap((seam) => {
    const side = base(seam.sides[0]) && walls(seam.sides[1]) ? 0 : base(seam.sides[1]) && walls(seam.sides[0]) ? 1 : null;
    return side === null ? [] : [{ seam, side } as const];
  });
  return [
    ...piped(
      'pipe the seams up to the mouth with paper cord of 5 mm',
      upright.map((seam) => ({ seam, side: 0 })),
    ),
    ...piped('pipe the seam round the base with paper cord of 5 mm', round),
  ];
}

/** Is the edge beside it in its outline an opening? */
function meetsMouth(bag: Bag, { panel, edge }: EdgeRun): boolean {
  const p = bag.panels.find((x) => x.name === panel)!,
    open = new Set(p.openings.flatMap((o) => p.chains[o] ?? [o])),
    at = p.outline.findIndex((e) => e.name === edge),
    n = p.outline.length;
  return at >= 0 && [at + 1, at + n - 1].some((i) => open.has(p.outline[i % n]!.name));
}

function onFeet(bag: Bag, stance: Stance): TrimChange[] {
  if (stance.kind !== 'standing' || (stance.ground && (stance.ground.on !== 'table' || stance.ground.base !== 'free'))) return [];
  if (bag.hardware?.some((h) => h.kind === 'foot')) return [];
  const hardware = feetPlaces(bag).map(
    ({ panel, at }): Hardware => ({ name: `feet, ${panel}`, kind: 'foot', panel, at, size: null, mass: null, height: null }),
  );
  const count = hardware.reduce((sum, h) => sum + h.at.length, 0);
  return count < 3 ? [] : [{ change: `set it on ${count} feet`, material: 'foot', panels: hardware.map((h) => h.panel), hardware }];
}

/** Four places near the corners of a base; of boxed panels two at either end of each one's half. None where there is no room. */
function feetPlaces(bag: Bag): { readonly panel: string; readonly at: readonly Point2[] }[] {
  const base = bag.panels.filter((p) => p.role === 'base');
  if (base.length > 0)
    return base.slice(0, 1).flatMap((p) => {
      const at = cornersOf(polygonOf(p.outline));
      return at ? [{ panel: p.name, at }] : [];
    });
  const { panels, boxed } = draftPanels(bag);
  return panels.flatMap(({ name }, p) => {
    const at = (boxed[p]?.lines ?? []).flatMap(({ from, to, baseOnLeft }): Point2[] => {
      const l = libm.hypot(to[0] - from[0], to[1] - from[1]),
        [x, y] = [(to[0] - from[0]) / l, (to[1] - from[1]) / l],
        [u, v] = baseOnLeft ? [-y, x] : [y, -x];
      if (l < 3 * INWARD) return [];
      return [INWARD, l - INWARD].map((along): Point2 => [from[0] + along * x + INWARD * u, from[1] + along * y + INWARD * v]);
    });
    const outline = polygonOf(bag.panels[p]!.outline);
    return at.length > 0 && at.every((a) => insidePolygon(a, outline) && distanceToPolygon(a, outline) >= INWARD / 2) ? [{ panel: name, at }] : [];
  });
}

/** From the middle toward each corner of its box, as far as INWARD from the edge; null where it is narrower than two feet abreast. */
function cornersOf(outline: readonly Point2[]): Point2[] | null {
  const [xs, ys] = [outline.map((q) => q[0]), outline.map((q) => q[1])],
    [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)],
    [cx, cy] = [(x0 + x1) / 2, (y0 + y1) / 2],
    fits = (q: Point2): boolean => insidePolygon(q, outline) && distanceToPolygon(q, outline) >= INWARD - 1e-9;
  if (!fits([cx, cy]) || Math.min(x1 - x0, y1 - y0) < 3 * INWARD) return null;
  return (
    [
      [-1, -1],
      [1, -1],
      [1, 1],
      [-1, 1],
    ] as const
  ).map(([sx, sy]) => {
    const aim: Point2 = [sx < 0 ? x0 + INWARD : x1 - INWARD, sy < 0 ? y0 + INWARD : y1 - INWARD],
      on = (t: number): Point2 => [cx + t * (aim[0] - cx), cy + t * (aim[1] - cy)];
    let [inside, beyond] = [0, 1];
    if (fits(aim)) return aim;
    while (beyond - inside > 1e-3) {
      const t = (inside + beyond) / 2;
      if (fits(on(t))) inside = t;
      else beyond = t;
    }
    return on(inside);
  });
}
