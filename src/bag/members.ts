/** Written line members to stretches and figures. What their kinds weigh and how stiff they are: material/members.ts. */
import { libm } from '../numerics/index.ts';
import { at } from './faults.ts';
import type { ParseContext } from './parse-context.ts';
import { runsOverlap } from './runs-overlap.ts';
import type { MemberForm } from './schema-members.ts';
import type { Member, Panel, PanelLine } from './types.ts';

/** A hair wire to a thick frame, m; the limpest thread to a crowbar, N*m2; a thread to a chain, kg/m; a rubber thread to a bar, N. Beyond is a slip of the unit. */
const SIZES = { min: 3e-4, max: 0.05 } as const;
const RIGIDITIES = { min: 1e-9, max: 1e3 } as const;
const MASSES = { min: 1e-5, max: 5 } as const;
const STRETCHES = { min: 1, max: 1e7 } as const;
const LENGTHS = { min: 5e-3, max: 5 } as const;
/** Radius of a hairpin to a rod that is as good as straight, m. */
const RADII = { min: 2e-3, max: 10 } as const;

const sameLine = (a: PanelLine, b: PanelLine): boolean => a.panel === b.panel && a.line === b.line;

/** "panel.line" where the panel has a line of that name drawn on it and no edge. */
function drawnLine(panels: readonly Panel[], ref: string): PanelLine | null {
  const [panel, line, ...more] = ref.split('.').map((part) => part.trim());
  const on = panels.find((p) => p.name === panel);
  if (!on || !line || more.length > 0 || on.chains[line] || [...on.outline, ...on.holes.flat()].some((e) => e.name === line)) return null;
  return on.lines.some((l) => l.name === line) ? { panel: on.name, line } : null;
}

const lineLength = (panels: readonly Panel[], { panel, line }: PanelLine): number => {
  const { points } = panels.find((p) => p.name === panel)!.lines.find((l) => l.name === line)!;
  return points.slice(1).reduce((sum, [x, y], i) => sum + libm.hypot(x - points[i]![0], y - points[i]![1]), 0);
};

/**
 * A member, or null after its faults: an edge that is not there, on what another member lies on, a size, rigidity or radius that nothing has, "figures" without
 * them, ends that take up all of its length. Parameters: name; form; those before it; the bag's panels.
 */
export function resolveMember(ctx: ParseContext, name: string, form: MemberForm, before: readonly Member[], panels: readonly Panel[]): Member | null {
  const path = at('members', name);
  const { faults } = ctx;
  const count = faults.faults.length;
  const refs = typeof form.along === 'string' ? [form.along] : form.along;
  const lines: PanelLine[] = [];
  const found = refs.map((ref, i) => {
    const here = typeof form.along === 'string' ? at(path, 'along') : at(at(path, 'along'), i);
    const line = drawnLine(panels, ref);
    if (line) lines.push(line);
    return line ? [] : ctx.attempt(here, ref, () => ctx.reference(ref, 'a member'));
  });
  const whole = found.every((r) => r !== null),
    runs = whole ? found.flatMap((r) => r ?? []) : [];
  const other = before.find((m) => m.runs.some((a) => runs.some((b) => runsOverlap(a, b))) || m.lines?.some((a) => lines.some((b) => sameLine(a, b))));
  if (other) faults.addText(at(path, 'along'), `a stretch that member "${other.name}" runs along`, 'one member on each stretch');
  if (runs.some((a, i) => runs.some((b, k) => k > i && runsOverlap(a, b))) || lines.some((a, i) => lines.some((b, k) => k > i && sameLine(a, b))))
    faults.addText(at(path, 'along'), 'the same stretch twice', 'each stretch once');
  const size = form.size === undefined ? null : ctx.size(at(path, 'size'), form.size, 'length', SIZES);
  const rodRigidity = form.rigidity === undefined ? null : ctx.quantity(at(path, 'rigidity'), form.rigidity, 'rodBending', RIGIDITIES);
  const stretch = form.stretch === undefined ? null : ctx.quantity(at(path, 'stretch'), form.stretch, 'force', STRETCHES);
  const lineMass = form.mass === undefined ? null : ctx.quantity(at(path, 'mass'), form.mass, 'lineMass', MASSES);
  const stopsShort = form['stops short'] === undefined ? 0 : ctx.size(at(path, 'stops short'), form['stops short'], 'length', { min: 0 });
  const length = form.length === undefined ? null : ctx.size(at(path, 'length'), form.length, 'length', LENGTHS);
  const formed = form.formed === undefined ? null : bentTo(ctx, at(path, 'formed'), form.formed);
  if (form.kind === 'figures')
    for (const key of ['size', 'rigidity', 'mass'] as const)
      if (form[key] === undefined) faults.addText(at(path, key), 'nothing', `a ${key} of its own: "figures" has none`);
  if (whole && stopsShort !== null) {
    const along = ctx.runLength(runs) + lines.reduce((sum, l) => sum + lineLength(panels, l), 0);
    if (!(2 * stopsShort < along)) faults.add(at(path, 'stops short'), form['stops short'], `less than half of its ${Math.round(along * 1000)} mm`);
  }
  if (form.ends === 'ring' && (stopsShort ?? 0) > 0) faults.add(at(path, 'stops short'), form['stops short'], 'nothing left out of a ring, or open ends');
  if (faults.faults.length > count || runs.length + lines.length === 0) return null;
  return {
    name,
    kind: form.kind,
    runs,
    ...(lines.length > 0 ? { lines } : {}),
    size,
    rodRigidity,
    lineMass,
    stopsShort: stopsShort ?? 0,
    ...(stretch === null ? {} : { stretch }),
    ...(length === null ? {} : { length }),
    ...(formed === null ? {} : { formed }),
    ...(form.ends === 'ring' ? { ends: form.ends } : {}),
  };
}

function bentTo(ctx: ParseContext, path: string, written: NonNullable<MemberForm['formed']>): NonNullable<Member['formed']> | null {
  if (written === 'as drawn') return 'drawn';
  if (written === 'as sewn') return 'sewn';
  return ctx.size(path, written, 'length', RADII);
}
