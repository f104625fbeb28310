/** Bag file to Bag. Every fault of the file is reported at once; what depends on a broken part stays silent. */

import type { z } from 'zod';
import { resolveBunches } from './bunches.ts';
import { resolveClosure } from './closures.ts';
import { checkEases } from './ease.ts';
import { at, FaultList, oneOf } from './faults.ts';
import { checkAllowances, resolveFinishes } from './finishes.ts';
import { RESERVED } from './formula.ts';
import { resolveHardware } from './hardware.ts';
import { resolveMember } from './members.ts';
import { goodLabel, goodName, LABEL_RULE, NAME_RULE } from './names.ts';
import { resolveOption } from './options.ts';
import { resolvePanel } from './panels.ts';
import { ParseContext, Reported } from './parse-context.ts';
import { isPlain, type Plain, plainSource } from './plain-source.ts';
import { LARGEST_STRAIN, type Renamed, withNewNames } from './renamed.ts';
import { runsOverlap } from './runs-overlap.ts';
import { BagForm } from './schema.ts';
import { ClosureForm } from './schema-closures.ts';
import { validated } from './schema-faults.ts';
import { HardwareForm } from './schema-hardware.ts';
import { MemberForm } from './schema-members.ts';
import { PanelForm } from './schema-panels.ts';
import { SeamForm, StrapForm } from './schema-sewing.ts';
import { MaterialForm, OptionForm, StackForm } from './schema-stacks.ts';
import { StanceForm } from './schema-stances.ts';
import { resolveSeam } from './seams.ts';
import { drawShape } from './shapes.ts';
import { resolveMaterial, resolveStack } from './stacks.ts';
import { defaultStances, resolveStance } from './stances.ts';
import { resolveStrap } from './straps.ts';
import { resolveTopstitch } from './topstitch.ts';
import type { Bag, Closure, EdgeRun, Member, OwnMaterial, Parameter, Seam, Strap, Wanted } from './types.ts';
import { EVERY_PANEL, LIMITS, PRESET_IDS, WANTED } from './words.ts';

/** What the file says, as plain JSON data: the thing that is edited and printed. */
export interface BagDocument {
  readonly value: Plain;
}

/** The parsed JSON of a text, or the object itself. Throws BagError at once for what cannot be looked at any further. */
function readSource(source: unknown): Plain {
  const faults = new FaultList(),
    plain = plainSource(source, faults, '{"slumpline": 1, ...}');
  if (!Object.hasOwn(plain, 'slumpline')) faults.addText('slumpline', 'nothing', '"slumpline": 1, the version of the bag file');
  else if (plain.slumpline !== 1) faults.add('slumpline', plain.slumpline, '1, the only version there is');
  const panels = plain.panels;
  if (isPlain(panels) && Object.keys(panels).length > LIMITS.panels)
    faults.addText('panels', `${Object.keys(panels).length} panels`, `at most ${LIMITS.panels}`);
  // A foreign or enormous file is refused here: a thousand follow-up faults would help nobody.
  faults.stop();
  return plain;
}

/** Entries of one section, each validated by itself. Names of broken entries count as known. `referred`: names that edge references must hold. */
interface Section<T> {
  readonly names: ReadonlySet<string>;
  readonly good: ReadonlyMap<string, T>;
}

function section<S extends z.ZodType>(ctx: ParseContext, file: Plain, key: string, schema: S, referred: boolean, limit = 1000): Section<z.infer<S>> {
  const names = new Set<string>();
  const good = new Map<string, z.infer<S>>();
  const value = Object.hasOwn(file, key) ? file[key] : undefined;
  if (value === undefined) return { names, good };
  if (!isPlain(value)) {
    ctx.faults.add(key, value, 'an object {"name": ...}');
    return { names, good };
  }
  const entries = Object.entries(value);
  if (entries.length > limit) {
    ctx.faults.addText(key, `${entries.length} entries`, `at most ${limit}`);
    return { names, good };
  }
  for (const [name, written] of entries) {
    const path = at(key, name);
    if (!(referred ? goodName(name) : goodLabel(name)))
      ctx.faults.addText(path, `the name ${JSON.stringify(name.slice(0, 60))}`, referred ? NAME_RULE : LABEL_RULE);
    names.add(name);
    const sound = validated(ctx.faults, path, written, schema);
    if (sound !== null) good.set(name, sound);
  }
  return { names, good };
}

function text(ctx: ParseContext, file: Plain, key: string, fallback: string): string {
  const value = file[key];
  if (value === undefined) return fallback;
  // Blank is as good as left out.
  if (typeof value === 'string' && value.length <= 5000) return value.trim() === '' ? fallback : value;
  ctx.faults.add(key, value, typeof value === 'string' ? 'at most 5000 characters' : 'text in quotes');
  return fallback;
}

function wantedOf(ctx: ParseContext, file: Plain): Wanted {
  const value = file.wanted;
  if (value === undefined) return 'structured';
  const known = WANTED.find((w) => w === value);
  if (known) return known;
  ctx.faults.add('wanted', value, typeof value === 'string' ? oneOf('a look', value, WANTED) : `one of ${WANTED.join(', ')}`);
  return 'structured';
}

function parameters(ctx: ParseContext, file: Plain): () => Parameter[] {
  const written = Object.hasOwn(file, 'parameters') ? file.parameters : undefined;
  if (written === undefined) {
    labelsOf(ctx, file);
    return () => [];
  }
  if (!isPlain(written)) {
    ctx.faults.add('parameters', written, 'an object such as {"W": "300 mm"}');
    return () => [];
  }
  const names: string[] = [];
  for (const [name, value] of Object.entries(written)) {
    const path = at('parameters', name);
    if (!/^[\p{L}_][\p{L}\p{N}_]*$/u.test(name) || name.length > 60)
      ctx.faults.addText(path, `the name ${JSON.stringify(name.slice(0, 60))}`, 'one word of letters, figures and _');
    else if (RESERVED.has(name)) ctx.faults.addText(path, `the name "${name}"`, 'a name that is no unit and no function');
    const sound = typeof value === 'string' || (typeof value === 'number' && Number.isFinite(value));
    if (!sound) ctx.faults.add(path, value, 'a figure with its unit or a formula, in quotes');
    if (!sound) ctx.declareBroken(name);
    else {
      ctx.declareParameter(name, value as string | number);
      names.push(name);
    }
  }
  const labels = labelsOf(ctx, file);
  return () =>
    names.flatMap((name): Parameter[] => {
      const path = at('parameters', name);
      const m = ctx.attempt(path, written[name], () => ctx.parameter(name));
      if (!m) return [];
      const kind = m.length === 1 ? 'length' : m.length !== 0 ? 'other' : m.angle === 0 ? 'number' : m.angle === 1 ? 'angle' : 'other';
      const label = labels.get(name);
      return [{ name, value: m.value, text: String(written[name]), kind, ...(label === undefined ? {} : { label }) }];
    });
}

/** Labels of parameters in words; those of no parameter are faults. */
function labelsOf(ctx: ParseContext, file: Plain): ReadonlyMap<string, string> {
  const written = file.labels;
  const labels = new Map<string, string>();
  if (written === undefined) return labels;
  if (!isPlain(written)) {
    ctx.faults.add('labels', written, 'an object such as {"W": "Width"}');
    return labels;
  }
  const known = isPlain(file.parameters) ? file.parameters : {};
  for (const [name, value] of Object.entries(written)) {
    const path = at('labels', name);
    if (!Object.hasOwn(known, name))
      ctx.faults.addText(path, `the label of "${name.slice(0, 60)}"`, oneOf('a parameter of this bag', name, Object.keys(known)));
    else if (typeof value !== 'string' || value.trim() === '' || value.length > 60) ctx.faults.add(path, value, 'a few words in quotes, at most 60 characters');
    else labels.set(name, value.trim());
  }
  return labels;
}

function strainLimitOf(ctx: ParseContext, file: Plain): { readonly strainLimit?: number } {
  const value = file[LARGEST_STRAIN];
  if (value === undefined) return {};
  if (typeof value === 'number' && value >= 0.001 && value <= 1) return { strainLimit: value };
  ctx.faults.add(ctx.writtenAs(LARGEST_STRAIN), value, 'a strain from 0.001 to 1, such as 0.05 for 5 %');
  return {};
}

/**
 * The bag of a file, resolved and in SI, together with the document it was read from.
 * Old names are read; the document has the new ones, and `renamed` says which there were.
 * Parameter: text of a `*.bag.json` (at most 2 MB) or its parsed value. Errors: BagError with every fault (path, value got, what was expected).
 */
export function parseBagDocument(source: unknown): { readonly document: BagDocument; readonly bag: Bag; readonly renamed: readonly Renamed[] } {
  const { file, renamed } = withNewNames(readSource(source));
  const ctx = new ParseContext(renamed);
  const { faults } = ctx;
  for (const key of Object.keys(file))
    if (!Object.hasOwn(BagForm.shape, key)) faults.add(key, file[key], oneOf('a known entry', key, Object.keys(BagForm.shape)));
  text(ctx, file, '$schema', '');
  const name = text(ctx, file, 'name', 'Bag');
  const note = text(ctx, file, 'note', '');
  const wanted = wantedOf(ctx, file);
  const strainLimit = strainLimitOf(ctx, file);
  const readParameters = parameters(ctx, file);
  const panelForms = section(ctx, file, 'panels', PanelForm, true, LIMITS.panels);
  const seamForms = section(ctx, file, 'seams', SeamForm, true);
  const strapForms = section(ctx, file, 'straps', StrapForm, true, 100);
  const memberForms = section(ctx, file, 'members', MemberForm, false, 100);
  const hardwareForms = section(ctx, file, 'hardware', HardwareForm, false, 100);
  const closureForms = section(ctx, file, 'closures', ClosureForm, false, 100);
  const materialForms = section(ctx, file, 'materials', MaterialForm, false);
  const stackForms = section(ctx, file, 'stacks', StackForm, false);
  const optionForms = section(ctx, file, 'options', OptionForm, false);
  const stanceForms = section(ctx, file, 'stances', StanceForm, false);
  // Counted before anything is drawn: looking for crossings takes time that grows with the square of the edges.
  const corners = [...panelForms.good.values()].reduce((sum, form) => sum + (form.outline ?? form.half ?? []).length, 0);
  if (corners > LIMITS.edges) faults.addText('panels', `${corners} corners in all`, `at most ${LIMITS.edges}`);
  if (corners > LIMITS.edges) faults.stop();
  ctx.declarePanels(panelForms.names, (panel) => {
    const form = panelForms.good.get(panel);
    if (!form) throw new Reported();
    return drawShape(ctx, at('panels', panel), form);
  });
  const resolved = readParameters();
  let edges = 0;
  for (const panel of panelForms.good.keys()) edges += ctx.attempt(at('panels', panel), panelForms.good.get(panel), () => ctx.drawn(panel))?.edges.size ?? 0;
  if (edges > LIMITS.edges) faults.addText('panels', `${edges} edges in all`, `at most ${LIMITS.edges}`);
  const seams = [...seamForms.good].flatMap(([seam, form]) => resolveSeam(ctx, seam, form));
  const sewn = new Map<string, Set<string>>();
  for (const seam of seams) for (const run of seam.sides.flat()) sewn.set(run.panel, (sewn.get(run.panel) ?? new Set()).add(run.edge));
  const stackKnown = (path: string, stack: string): void => {
    if (!stackForms.names.has(stack)) faults.add(path, stack, oneOf('a stack of this bag', stack, stackForms.names));
  };
  const panels = [...panelForms.good].flatMap(
    ([panel, form]) => resolvePanel(ctx, panel, form, panelForms.good, sewn.get(panel) ?? new Set(), stackKnown) ?? [],
  );
  const bunched = seams.map((seam): Seam => {
    const form = seamForms.good.get(seam.name);
    if (!form || Array.isArray(form) || !Array.isArray(form.gather)) return seam;
    const bunches = resolveBunches(ctx, seam, form.gather, panels);
    return bunches ? { ...seam, gather: Math.max(...bunches.map((b) => b.ratio)), bunches } : seam;
  });
  const topstitch = [...panelForms.good].flatMap(([panel, form]) => resolveTopstitch(ctx, panel, form.topstitch ?? []));
  const finishes = [...panelForms.good].flatMap(([panel, form]) => resolveFinishes(ctx, panel, form.finishes ?? {}, seams, stackKnown));
  checkAllowances(ctx, seamForms.good, seams, panels);
  const straps: Strap[] = [];
  for (const [strap, form] of strapForms.good) straps.push(...resolveStrap(ctx, strap, form, straps, stackKnown));
  const members: Member[] = [];
  for (const [member, form] of memberForms.good) {
    const made = resolveMember(ctx, member, form, members, panels);
    if (made) members.push(made);
  }
  const hardware = [...hardwareForms.good].flatMap(([set, form]) => resolveHardware(ctx, set, form, panels) ?? []);
  const closures: Closure[] = [];
  const isSewn = (run: EdgeRun): boolean => seams.some((s) => s.sides.flat().some((r) => runsOverlap(r, run)));
  for (const [closure, form] of closureForms.good) {
    const made = resolveClosure(ctx, closure, form, closures, isSewn);
    if (made) closures.push(made);
  }
  if (panelForms.names.size === 0) faults.addText('panels', 'no panels', 'at least one panel');
  const materials = ownMaterials(ctx, materialForms);
  const stacks = [...stackForms.good].flatMap(([stack, form]) => resolveStack(ctx, stack, form, materialForms.names) ?? []);
  if (stackForms.names.size === 0) faults.addText('stacks', 'no stacks', 'at least one stack');
  const regions = new Map<string, string>();
  for (const [panel, form] of panelForms.good)
    for (const [region, written] of Object.entries(form.regions ?? {})) regions.set(`${panel}/${region}`, written.stack);
  const parts = { panels: panelForms.names, regions };
  const written =
    optionForms.names.size > 0 || stackForms.names.size !== 1
      ? optionForms.good
      : new Map([...stackForms.names].map((s) => [s, { [EVERY_PANEL]: s }] as const));
  if (optionForms.names.size === 0 && stackForms.names.size > 1) faults.addText('options', 'no options', 'at least one option where there are several stacks');
  const options = [...written].flatMap(([option, form]) => resolveOption(ctx, option, form, parts, stackKnown) ?? []);
  checkEases(ctx, stacks, options, panels, straps);
  // Straps that have faults of their own are not missed a second time here.
  const carriers = [...new Set([...straps.map((s) => s.name), ...strapForms.names])];
  const stances = [...stanceForms.good].flatMap(([stance, form]) => resolveStance(ctx, stance, form, carriers, [...closureForms.names]) ?? []);
  faults.stop();
  const bag: Bag = {
    version: 1,
    name,
    note,
    wanted,
    ...strainLimit,
    parameters: resolved,
    panels,
    seams: bunched,
    straps,
    topstitch,
    ...(finishes.length > 0 ? { finishes } : {}),
    ...(members.length > 0 ? { members } : {}),
    ...(hardware.length > 0 ? { hardware } : {}),
    ...(closures.length > 0 ? { closures } : {}),
    materials,
    stacks,
    options,
    stances:
      stances.length > 0
        ? stances
        : defaultStances(
            panels,
            straps.map((s) => s.name),
          ),
  };
  return { document: { value: file }, bag, renamed: ctx.renamed };
}

function ownMaterials(ctx: ParseContext, forms: Section<z.infer<typeof MaterialForm>>): OwnMaterial[] {
  for (const id of forms.names)
    if ((PRESET_IDS as readonly string[]).includes(id)) ctx.faults.addText(at('materials', id), `the name "${id}"`, 'a name that no built-in material has');
  return [...forms.good].flatMap(([id, form]) => resolveMaterial(ctx, id, form) ?? []);
}

/** The "materials" of a file that is no bag file (a shelf), read as a bag's are; `names`: those with faults as well. Mutates faults. */
export function readMaterials(
  faults: FaultList,
  file: Readonly<Record<string, unknown>>,
): { readonly names: ReadonlySet<string>; readonly materials: readonly OwnMaterial[] } {
  const ctx = new ParseContext([], faults),
    forms = section(ctx, file, 'materials', MaterialForm, false);
  return { names: forms.names, materials: ownMaterials(ctx, forms) };
}

/** As parseBagDocument, for a caller that only needs the bag. Errors: BagError. */
export const parseBag = (source: unknown): Bag => parseBagDocument(source).bag;
