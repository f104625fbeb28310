/** Written line members to stretches and figures. What their kinds weigh and how stiff they are: material/members.ts. */
import { at } from './faults.ts';
import type { ParseContext } from './parse-context.ts';
import type { MemberForm } from './schema-members.ts';
import type { EdgeRun, Member, Panel } from './types.ts';

/** A hair wire to a thick frame, m; the limpest thread to a crowbar, N*m2; a thread to a chain, kg/m. Beyond is a slip of the unit. */
const SIZES = { min: 3e-4, max: 0.05 } as const;
const RIGIDITIES = { min: 1e-9, max: 1e3 } as const;
const MASSES = { min: 1e-5, max: 5 } as const;

const meets = (a: EdgeRun, b: EdgeRun): boolean => a.panel === b.panel && a.edge === b.edge && a.from < b.to - 1e-9 && b.from < a.to - 1e-9;

/**
 * A member, or null after its faults: an edge that is not there, edges of several panels, on what another member lies on, a size or a rigidity that nothing
 * has, "figures" without them, ends that take up all of its length, the edge of a tube. Parameters: name; form; those before it; the bag's panels.
 */
export function resolveMember(ctx: ParseContext, name: string, form: MemberForm, before: readonly Member[], panels: readonly Panel[]): Member | null {
  const path = at('members', name);
  const { faults } = ctx;
  const count = faults.faults.length;
  const refs = typeof form.along === 'string' ? [form.along] : form.along;
  const found = refs.map((ref, i) => {
    const here = typeof form.along === 'string' ? at(path, 'along') : at(at(path, 'along'), i);
    return ctx.attempt(here, ref, () => ctx.reference(ref, 'a member'));
  });
  const runs = found.every((r) => r !== null) ? found.flatMap((r) => r ?? []) : [];
  const named = [...new Set(runs.map((r) => r.panel))];
  if (named.length > 1) faults.addText(at(path, 'along'), `edges of ${named.join(' and ')}`, 'edges of one panel; a member for each panel');
  // A member is straight at rest with open ends; round a tube it would push the rim out of round, where a maker bends it to a ring first.
  const tube = panels.find((p) => p.role === 'body' && runs.some((r) => r.panel === p.name));
  if (tube)
    faults.addText(
      at(path, 'along'),
      `an edge of the tube ${tube.name}`,
      'an edge of a flat wall: members are straight at rest, one formed to a ring is not reckoned',
    );
  const other = before.find((m) => m.runs.some((a) => runs.some((b) => meets(a, b))));
  if (other) faults.addText(at(path, 'along'), `a stretch that member "${other.name}" runs along`, 'one member on each stretch');
  if (runs.some((a, i) => runs.some((b, k) => k > i && meets(a, b)))) faults.addText(at(path, 'along'), 'the same stretch twice', 'each stretch once');
  const size = form.size === undefined ? null : ctx.size(at(path, 'size'), form.size, 'length', SIZES);
  const rodRigidity = form.rigidity === undefined ? null : ctx.quantity(at(path, 'rigidity'), form.rigidity, 'rodBending', RIGIDITIES);
  const lineMass = form.mass === undefined ? null : ctx.quantity(at(path, 'mass'), form.mass, 'lineMass', MASSES);
  const stopsShort = form['stops short'] === undefined ? 0 : ctx.size(at(path, 'stops short'), form['stops short'], 'length', { min: 0 });
  if (form.kind === 'figures')
    for (const key of ['size', 'rigidity', 'mass'] as const)
      if (form[key] === undefined) faults.addText(at(path, key), 'nothing', `a ${key} of its own: "figures" has none`);
  if (runs.length > 0 && stopsShort !== null) {
    const length = ctx.runLength(runs);
    if (!(2 * stopsShort < length)) faults.add(at(path, 'stops short'), form['stops short'], `less than half of its ${Math.round(length * 1000)} mm`);
  }
  if (faults.faults.length > count || runs.length === 0) return null;
  return { name, kind: form.kind, runs, size, rodRigidity, lineMass, stopsShort: stopsShort ?? 0 };
}
