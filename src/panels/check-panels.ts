import type { Bag } from '../bag/types.ts';
import { placeKey, placeOnSide, SewnPlaces } from './chains.ts';
import { degrees, type FindingList, millimetres } from './findings.ts';
import type { Draft } from './types.ts';

/** A corner narrower than this cannot be turned to a clean point (common practice). */
const SHARPEST = (20 * Math.PI) / 180;
/** An edge shorter than a stitch or two is a slip of the pen. */
const SHORTEST = 0.003;
/** Curves tighter than this many allowances need clips into the allowance, every 6-12 mm (common practice). */
const CLIP_BELOW = 5;
/** Middle of the 6-12 mm that clips stand apart on a curve, m (common practice). */
const CLIP_APART = 0.009;
/** Cloth whose angles round a point exceed a full turn by this ruffles there. */
const ANGLE_SLACK = (5 * Math.PI) / 180;

/** Outlines that cross themselves or run the wrong way, corners too sharp, edges too short, grain off the straight. */
export function checkOutlines(bag: Bag, draft: Draft, findings: FindingList): void {
  draft.panels.forEach((panel, p) => {
    for (const [a, b] of panel.crossings)
      findings.fault({
        kind: 'crosses itself',
        panel: panel.name,
        edge: a,
        seam: null,
        value: 1,
        figure: a === b ? a : `${a} x ${b}`,
        text: a === b ? `${panel.name}.${a} crosses itself.` : `${panel.name}.${a} crosses or touches ${panel.name}.${b}.`,
      });
    if (!panel.edges[panel.loops[0][0]].clothOnLeft)
      findings.fault({
        kind: 'drawn clockwise',
        panel: panel.name,
        edge: null,
        seam: null,
        value: panel.area,
        figure: `${(panel.area * 1e4).toFixed(0)} cm2`,
        text: `The outline of ${panel.name} runs clockwise seen from its face: it is drawn from the wrong side.`,
      });
    panel.edges.forEach((edge, e) => {
      const where = { panel: panel.name, edge: edge.name, seam: null };
      const angle = panel.cornerAngle[e];
      if (angle < SHARPEST)
        findings.warning({
          kind: 'sharp corner',
          ...where,
          value: angle,
          figure: degrees(angle),
          text: `The corner where ${panel.name}.${edge.name} starts is ${degrees(angle)} wide: too sharp to turn.`,
        });
      if (edge.length < SHORTEST)
        findings.warning({
          kind: 'short edge',
          ...where,
          value: edge.length,
          figure: millimetres(edge.length),
          text: `${panel.name}.${edge.name} is only ${millimetres(edge.length)} long.`,
        });
    });
    const quarter = Math.PI / 2;
    const off = Math.abs(bag.panels[p].grain - quarter * Math.round(bag.panels[p].grain / quarter));
    if (off > 0.02)
      findings.note({
        kind: 'grain',
        panel: panel.name,
        edge: null,
        seam: null,
        value: off,
        figure: degrees(off),
        text: `${panel.name} is cut ${degrees(off)} off the straight grain.`,
      });
  });
}

/** Sewn curves against their allowance: tighter than the allowance cannot be turned; tighter than five needs clips. */
export function checkCurves(bag: Bag, draft: Draft, findings: FindingList): void {
  const told = new Set<string>();
  draft.seams.forEach((seam, s) => {
    const { allowance, type } = bag.seams[s];
    // Only turned-in allowances have to go round the curve.
    if (allowance === 0 || type === 'fold' || type === 'bound') return;
    for (const side of seam.sides)
      for (const run of side.runs) {
        const panel = draft.panels[run.panel];
        const edge = panel.edges[run.edge];
        const radius = edge.curve.minRadius;
        const key = `${run.panel}:${run.edge}`;
        if (radius > CLIP_BELOW * allowance * (1 + 1e-9) || told.has(key)) continue;
        told.add(key);
        const clips = Math.max(1, Math.ceil(run.length / CLIP_APART - 1e-9) - 1);
        const where = { panel: panel.name, edge: edge.name, seam: seam.name, value: radius, figure: `radius ${millimetres(radius)}` };
        if (radius < allowance)
          findings.warning({
            kind: 'tight curve',
            ...where,
            text: `${panel.name}.${edge.name} bends to a radius of ${millimetres(radius)}, tighter than its ${millimetres(allowance)} allowance: trim the allowance or enlarge the curve.`,
          });
        else
          findings.note({
            kind: 'clip marks',
            ...where,
            figure: `radius ${millimetres(radius)}, ${clips} clips`,
            text: `Clip the ${millimetres(allowance)} allowance of ${panel.name}.${edge.name} every 6-12 mm, ${clips} clips: its smallest radius is ${millimetres(radius)} over a curve of ${millimetres(run.length)}.`,
          });
      }
  });
}

/** Every place that the seams sew together: ends of seams and matched corners inside them. */
function sewnPlaces(draft: Draft): SewnPlaces {
  const sewn = new SewnPlaces();
  for (const seam of draft.seams)
    for (const [ua, ub] of seam.knots) {
      const [x, y] = [placeOnSide(seam.sides[0], ua), placeOnSide(seam.sides[1], ub)];
      sewn.join(placeKey(draft.panels, x.run.panel, x.run.edge, x.fraction), placeKey(draft.panels, y.run.panel, y.run.edge, y.fraction));
    }
  return sewn;
}

/**
 * A base two of whose corners are sewn to one corner of the bag although it is not sewn to itself: it lies in the ring of walls mirrored, or the
 * walls stand round it in another order than they are sewn to each other. A base is drawn from its face, that is from below.
 */
export function checkBases(bag: Bag, draft: Draft, findings: FindingList): void {
  const sewn = sewnPlaces(draft);
  draft.panels.forEach((panel, p) => {
    const itself = draft.seams.some((seam) => seam.sides.every((side) => side.runs.some((r) => r.panel === p)));
    if (bag.panels[p].role !== 'base' || itself) return;
    const taken = new Map<number, string>();
    const doubled = panel.loops[0].flatMap((e) => {
      const key = sewn.find(placeKey(draft.panels, p, e, 0));
      const before = taken.get(key);
      taken.set(key, panel.edges[e].name);
      return before === undefined ? [] : [[before, panel.edges[e].name] as const];
    });
    if (doubled.length === 0) return;
    const [first, second] = doubled[0];
    findings.fault({
      kind: 'mirrored',
      panel: panel.name,
      edge: second,
      seam: null,
      value: doubled.length,
      figure: `${doubled.length} corner${doubled.length === 1 ? '' : 's'} doubled`,
      text: `The corners where ${panel.name}.${first} and ${panel.name}.${second} start are sewn to one corner of the bag: the base is sewn in mirrored, or to the walls in the wrong order. Seen from its face, that is from below, its right edge lies on the bag's left.`,
    });
  });
}

/** Angles of all panels that meet in one sewn point inside the bag: more than a full turn cannot lie without ruffling. */
export function checkCorners(_bag: Bag, draft: Draft, findings: FindingList): void {
  const sewn = sewnPlaces(draft);
  const loose = new Set<number>();
  const covered = (panel: number, edge: number, at: 0 | 1): boolean =>
    draft.seams.some((seam) =>
      seam.sides.some((side) => side.runs.some((r) => r.panel === panel && r.edge === edge && (at === 0 ? r.from < 1e-9 : r.to > 1 - 1e-9))),
    );
  const sums = new Map<number, { angle: number; panel: string; edge: string; names: string[] }>();
  draft.panels.forEach((panel, p) => {
    panel.edges.forEach((edge, e) => {
      const key = sewn.find(placeKey(draft.panels, p, e, 0));
      // A corner with an open edge on either side is on the rim: its sum may be anything.
      if (!covered(p, e, 0) || !covered(p, edge.previous, 1)) loose.add(key);
      const sum = sums.get(key) ?? { angle: 0, panel: panel.name, edge: edge.name, names: [] };
      sum.angle += panel.cornerAngle[e];
      sum.names.push(`${panel.name}.${edge.name}`);
      sums.set(key, sum);
    });
  });
  for (const [key, { angle, panel, edge, names }] of sums) {
    if (loose.has(key) || names.length < 2 || angle <= 2 * Math.PI + ANGLE_SLACK) continue;
    findings.warning({
      kind: 'angle sum',
      panel,
      edge,
      seam: null,
      value: angle,
      figure: degrees(angle),
      text: `The corners at the start of ${names.join(', ')} add up to ${degrees(angle)} where they are sewn together: over 360 deg the cloth ruffles.`,
    });
  }
}
