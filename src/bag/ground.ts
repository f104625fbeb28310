/** What a standing bag stands on and leans on: a table, level or tilted, and plain rigid forms. */
import { libm } from '../numerics/index.ts';
import { at } from './faults.ts';
import type { ParseContext } from './parse-context.ts';
import type { FormForm, StanceForm } from './schema-stances.ts';
import type { Form, Ground } from './types.ts';
import { LIMITS, withArticle } from './words.ts';

/** Radius of a form's edges when none is given, m: sharper than this, cloth hangs over it between two mesh points. */
const USUAL_ROUND = 0.003;
/** Steepest slope, rad; beyond it a table is a wall. */
const STEEPEST = Math.PI / 4;
const SIZE = { min: 0.002, max: LIMITS.length } as const;

type Kind = FormForm['form'];
type Key = Exclude<keyof FormForm, 'form' | 'at' | 'friction'>;
/** Entries that each form must have, and those it may have. */
const NEEDS: Readonly<Record<Kind, { readonly must: readonly Key[]; readonly may: readonly Key[] }>> = {
  block: { must: ['width', 'depth', 'height'], may: ['round', 'turn'] },
  egg: { must: ['width', 'depth', 'height'], may: ['turn'] },
  ball: { must: ['diameter'], may: [] },
  roll: { must: ['diameter', 'length'], may: ['along', 'round'] },
  bolster: { must: ['diameter', 'length'], may: ['along'] },
};

function resolveForm(ctx: ParseContext, path: string, form: FormForm, friction: number): Form | null {
  const { faults } = ctx;
  const before = faults.faults.length;
  const { must, may } = NEEDS[form.form];
  for (const key of must)
    if (form[key] === undefined)
      faults.addText(
        at(path, key),
        'nothing',
        `a length: ${withArticle(form.form)} takes ${must.join(', ')} (and may take ${may.join(', ') || 'nothing more'})`,
      );
  for (const key of ['width', 'depth', 'height', 'diameter', 'length', 'along', 'round', 'turn'] as const)
    if (form[key] !== undefined && !must.includes(key) && !may.includes(key))
      faults.add(at(path, key), form[key], `nothing: ${withArticle(form.form)} takes ${[...must, ...may].join(', ')}`);
  const length = (key: 'width' | 'depth' | 'height' | 'diameter' | 'length'): number => {
    const written = form[key];
    return written === undefined ? 0 : (ctx.size(at(path, key), written, 'length', SIZE) ?? 0);
  };
  const middle = (form.at ?? [0, 0, 0]).map((v, i) => ctx.size(at(at(path, 'at'), i), v, 'length', { min: -LIMITS.length, max: LIMITS.length }) ?? 0);
  const own = form.friction ?? friction;
  if (!(own >= 0 && own <= LIMITS.friction)) faults.add(at(path, 'friction'), own, `a number from 0 to ${LIMITS.friction}`);
  const turn = form.turn === undefined ? 0 : (ctx.size(at(path, 'turn'), form.turn, 'angle', { min: -Math.PI, max: Math.PI }) ?? 0);
  const least = (...sizes: number[]): number => Math.min(...sizes) / 2;
  const round = (most: number): number =>
    form.round === undefined ? Math.min(USUAL_ROUND, most) : (ctx.size(at(path, 'round'), form.round, 'length', { min: 0, max: most }) ?? 0);
  const place = { at: [middle[0]!, middle[1]!, middle[2]!] as const, friction: own };
  const made = ((): Form => {
    switch (form.form) {
      case 'ball':
        return { ...place, form: 'ball', diameter: length('diameter') };
      case 'block':
      case 'egg': {
        const size = [length('width'), length('depth'), length('height')] as const;
        return form.form === 'block' ? { ...place, form: 'block', size, turn, round: round(least(...size)) } : { ...place, form: 'egg', size, turn };
      }
      default: {
        const [diameter, long] = [length('diameter'), length('length')];
        if (form.form === 'bolster' && long < diameter && faults.faults.length === before)
          faults.add(at(path, 'length'), form.length, 'at least its diameter: the round ends are part of it');
        const shared = { ...place, diameter, length: long, along: form.along ?? 'z' };
        return form.form === 'bolster' ? { ...shared, form: 'bolster' } : { ...shared, form: 'roll', round: round(least(diameter, long)) };
      }
    }
  })();
  return faults.faults.length > before ? null : made;
}

/**
 * What a standing stance says of its ground; null for a level table with nothing beside it. Faults go on the list: among them a slope that no bag stays on
 * (tan tilt over the friction, unless its base is held), nothing at all to stand on.
 */
export function resolveGround(ctx: ParseContext, path: string, form: StanceForm, friction: number): Ground | null {
  const { faults } = ctx;
  const on = form.on ?? 'table';
  const base = form.base ?? 'free';
  const tilt = form.tilt === undefined ? 0 : (ctx.size(at(path, 'tilt'), form.tilt, 'angle', { min: 0, max: STEEPEST }) ?? 0);
  if (base === 'free' && tilt > 0 && friction >= 0 && libm.tan(tilt) > friction)
    faults.add(
      at(path, 'tilt'),
      form.tilt,
      `at most ${((libm.atan(friction) * 180) / Math.PI).toFixed(1)} deg at friction ${friction}: on a steeper slope the bag slides off`,
    );
  if (form.toward !== undefined && form.tilt === undefined) faults.add(at(path, 'toward'), form.toward, 'nothing: only a tilted table has a direction');
  const forms = (form.forms ?? []).flatMap((f, i) => resolveForm(ctx, at(at(path, 'forms'), i), f, friction) ?? []);
  if (on === 'nothing' && (form.forms ?? []).length === 0) faults.addText(at(path, 'on'), '"nothing"', 'at least one entry in "forms" to lie on');
  if (on === 'table' && tilt === 0 && base === 'free' && forms.length === 0) return null;
  return { on, tilt, toward: form.toward ?? 'front', base, forms };
}
