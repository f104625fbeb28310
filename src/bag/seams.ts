/** Written seams to chains of edge stretches. A seam of three or more sides becomes one seam per further side, all on the first side's line. */
import { at, shown } from './faults.ts';
import type { ParseContext } from './parse-context.ts';
import { runsOverlap } from './runs-overlap.ts';
import type { SeamForm } from './schema-sewing.ts';
import type { EdgeRun, Seam } from './types.ts';
import { LIMITS } from './words.ts';

const DEFAULT_ALLOWANCE = 0.01;

/** The stretches of one written side, or null after its faults. */
function side(ctx: ParseContext, path: string, written: string | readonly string[]): EdgeRun[] | null {
  const refs = typeof written === 'string' ? [written] : written;
  if (refs.length === 0) {
    ctx.faults.addText(path, 'an empty list', 'at least one edge');
    return null;
  }
  const made = refs.map((ref, i) => ctx.attempt(typeof written === 'string' ? path : at(path, i), ref, () => ctx.reference(ref, 'a seam')));
  return made.includes(null) ? null : (made as EdgeRun[][]).flat();
}

/**
 * The seams of one written entry (more than one for T seams: "T", "T+2", ...); empty after faults.
 * Defaults: plain, 10 mm allowance (common practice, 6-13 mm), direction to be inferred, sides meant to match in length.
 */
export function resolveSeam(ctx: ParseContext, name: string, form: SeamForm): Seam[] {
  const path = at('seams', name);
  const full = Array.isArray(form) ? { join: form } : form;
  const base = Array.isArray(form) ? path : at(path, 'join');
  const { faults } = ctx;
  if (full.join.length < 2) faults.addText(base, `${full.join.length} side${full.join.length === 1 ? '' : 's'}`, 'at least two sides');
  if (Array.isArray(full.gather) && full.join.length !== 2)
    faults.addText(at(path, 'gather'), `stretches in a seam of ${full.join.length} sides`, 'two sides where a seam is bunched');
  if (full.join.length > 8) faults.addText(base, `${full.join.length} sides`, 'at most eight sides in one seam');
  const sides = full.join.slice(0, 8).map((s, i) => side(ctx, at(base, i), s));
  const type = full.type ?? 'plain';
  const allowance =
    full.allowance === undefined ? DEFAULT_ALLOWANCE : ctx.size(at(path, 'allowance'), full.allowance, 'length', { min: 0, max: LIMITS.allowance });
  const made = type === 'fold' ? 'an allowance: a fold has none' : allowance === 0 ? 'an allowance wider than nothing' : null;
  const kept =
    full.trimmed === undefined ? undefined : ctx.size(at(path, 'trimmed'), full.trimmed, 'length', { min: 0, above: true, max: allowance || LIMITS.allowance });
  const [to, over] = full.skived
    ? [
        ctx.quantity(at(at(path, 'skived'), 'to'), full.skived.to, 'thickness', { min: 0, above: true, max: LIMITS.allowance }),
        ctx.size(at(at(path, 'skived'), 'over'), full.skived.over, 'length', { min: 0, above: true, max: LIMITS.allowance }),
      ]
    : [];
  if (made && full.trimmed !== undefined) faults.add(at(path, 'trimmed'), full.trimmed, made);
  if (made && full.skived) faults.add(at(path, 'skived'), full.skived, made);
  const thinned = { ...(kept ? { trimmed: kept } : {}), ...(to && over ? { skived: { to, over } } : {}) };
  const gather = full.gather === undefined || Array.isArray(full.gather) ? null : ctx.size(at(path, 'gather'), full.gather, 'number', { min: 1, max: 6 });
  let hinge: Seam['hinge'] = null;
  if (full.hinge) {
    const stiffness = ctx.quantity(at(at(path, 'hinge'), 'stiffness'), full.hinge.stiffness, 'hinge', { min: 0, max: LIMITS.hinge });
    const restAngle = full.hinge.rest === undefined ? 0 : ctx.size(at(at(path, 'hinge'), 'rest'), full.hinge.rest, 'angle', { min: -Math.PI, max: Math.PI });
    if (stiffness !== null && restAngle !== null) hinge = { stiffness, restAngle };
  }
  if (full.pressed && type !== 'plain' && type !== 'turned')
    faults.add(at(path, 'pressed'), full.pressed, `a plain or turned seam: the layers of a ${type} one are stitched flat already`);
  if (full.pressed && full.hinge) faults.add(at(path, 'pressed'), full.pressed, 'one of pressed and hinge: both say how the seam turns');
  const pressed = full.pressed ? { pressed: full.pressed } : {};
  sides.forEach((a, i) => {
    for (let j = i; j < sides.length; j++) {
      const b = sides[j];
      const clash = a?.find((r, k) => b?.some((q, l) => (i !== j || l > k) && runsOverlap(r, q)));
      if (clash) faults.add(at(base, j), full.join[j], `each stretch once in a seam, not ${shown(`${clash.panel}.${clash.edge}`)} twice`);
    }
  });
  const [first, ...others] = sides;
  if (!first || allowance === null) return [];
  const reversed = full.direction === undefined ? null : full.direction === 'against';
  return others.flatMap((other, i): Seam[] =>
    other ? [{ name: i === 0 ? name : `${name}+${i + 1}`, sides: [first, other], reversed, type, allowance, gather, hinge, ...pressed, ...thinned }] : [],
  );
}
