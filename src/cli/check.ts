import type { Bag, PreviewOptions } from '../index.ts';
import type { Core } from './core.ts';
import { faultFailure } from './faults.ts';
import { EXIT, Failure, INPUT, type Io, named, readEach } from './io.ts';
import { examineShelf, type FoundShelf, shelfWords } from './shelf.ts';

type Wrong = { readonly path: string; readonly got: string; readonly expected: string } | { readonly kind: string; readonly text: string };

/** What `check` finds in one file: sizes in m and m2, angle in degrees as its name says. */
interface Found {
  readonly file: string;
  readonly bag: string;
  readonly wanted: string;
  readonly panels: readonly { readonly name: string; readonly width: number; readonly height: number; readonly area: number }[];
  readonly seams: number;
  /** Both sides of every seam are of one length, gathers aside. */ readonly seamsMatch: boolean;
  readonly lookAt: readonly string[];
  readonly notes: readonly string[];
  /** Old names in the file and what they are called now. */ readonly renamed: readonly { readonly path: string; readonly old: string; readonly now: string }[];
  readonly options: readonly string[];
  readonly stances: readonly string[];
  readonly mesh: { readonly points: number; readonly minAngleDeg: number };
}

/** A Failure that keeps its faults as data for --json. */
class Faulty extends Failure {
  constructor(
    readonly file: string,
    readonly faults: readonly Wrong[],
    message: string,
  ) {
    super(message, EXIT.input);
  }
}

/**
 * `check FILE...`: reads, drafts and meshes each bag in every stance and says what is in it; reads shelf files as well. Exit 0 when nothing is wrong, 2 with every fault of every
 * file listed. --json: one record, or { files: [...] } of several, on stdout whether there are faults or not.
 */
export async function check(io: Io, core: Core, files: readonly string[], json: boolean): Promise<number> {
  const asData = (error: unknown): Faulty => {
    if (json && error instanceof Faulty) return error;
    throw error;
  };
  const all = await readEach(
    io,
    files,
    (file, text): Found | FoundShelf | Faulty => {
      try {
        return core.isShelfText(text) ? faulty(core, file, () => examineShelf(core, named(file), text)) : examine(core, file, text);
      } catch (error) {
        return asData(error);
      }
    },
    // Whoever reads the data reads it there as well: nothing on stdout would be no JSON at all.
    (file, { message }) => asData(new Faulty(named(file), [{ path: '', got: message.trim(), expected: 'a file that can be read' }], message)),
  );
  if (json) {
    const records = all.map((f) => (f instanceof Faulty ? { file: f.file, ok: false, faults: f.faults } : { ok: true, ...f }));
    io.out(core.stableJson(records.length === 1 ? records[0] : { files: records }));
    return all.some((f) => f instanceof Faulty) ? EXIT.input : EXIT.ok;
  }
  io.out(all.map((f) => ('items' in f ? shelfWords(core, f) : words(core, f as Found))).join('\n'));
  return EXIT.ok;
}

function examine(core: Core, file: string, text: string): Found {
  const bag = readSewable(core, file, text);
  const draft = core.draftPanels(bag);
  const pattern = core.checkPattern(bag, draft);
  assertStances(core, file, bag);
  const { mesh } = faulty(core, file, () => core.prepare(bag));
  return {
    file: named(file),
    bag: bag.name,
    wanted: bag.wanted,
    panels: draft.panels.map(({ name, bounds: [x0, y0, x1, y1], area }) => ({ name, width: x1 - x0, height: y1 - y0, area })),
    seams: bag.seams.length,
    // "mismatch" is the pattern check's own word for sides that differ by more than 3 mm or 1 %.
    seamsMatch: !pattern.warnings.some((f) => f.kind === 'mismatch'),
    lookAt: [...pattern.warnings, ...core.checkBulk(bag, draft), ...core.checkMembers(bag)].map((f) => f.text),
    notes: [...pattern.notes, ...core.checkThread(bag)].map((f) => f.text),
    renamed: core.parseBagDocument(text).renamed,
    options: bag.options.map((o) => o.name),
    stances: bag.stances.map((s) => s.name),
    mesh: { points: mesh.vertexCount, minAngleDeg: mesh.quality.minAngleDeg },
  };
}

function words(core: Core, f: Found): string {
  const care = f.lookAt.length;
  return [
    `${f.bag}: no faults${care === 0 ? '' : `, ${care} ${care === 1 ? 'thing' : 'things'} to look at`}.`,
    `${f.panels.length} panels, ${f.seams} seams, wanted "${f.wanted}"`,
    ...f.panels.map((p) => `  ${p.name}: ${core.formatLength(p.width)} x ${core.formatLength(p.height)}, ${(p.area * 1e4).toFixed(0)} cm2`),
    ...(f.seamsMatch ? ['both sides of every seam are the same length (to 3 mm and 1 %), gathers aside'] : []),
    ...(care > 0 ? ['check these before you cut:', ...f.lookAt.map((text) => `  ${text}`)] : []),
    ...(f.notes.length > 0 ? ['at the cutting table:', ...f.notes.map((text) => `  ${text}`)] : []),
    ...(f.renamed.length > 0 ? ['old names in this file, still read:', ...f.renamed.map((r) => `  ${r.path}: "${r.old}" is now "${r.now}"`)] : []),
    `options: ${quoted(f.options)}`,
    `stances: ${quoted(f.stances)}`,
    `mesh at its usual size: ${f.mesh.points} points, smallest angle ${f.mesh.minAngleDeg.toFixed(0)} deg`,
    '',
  ].join('\n');
}

const quoted = (names: readonly string[]): string => names.map((n) => `"${n}"`).join(', ');

/** As `guarded`, with the faults kept as data. */
function faulty<T>(core: Core, file: string, run: () => T): T {
  try {
    return run();
  } catch (error) {
    if (error instanceof core.BagError) throw new Faulty(named(file), error.faults, faultFailure(file, error.faults).message);
    throw error;
  }
}

/** The parsed bag, to be sewn up: a Failure with every fault of the file, or with what keeps its pattern from being sewn as drawn. */
export function readSewable(core: Core, file: string, text: string): Bag {
  const bag = faulty(core, file, () => core.parseBag(text));
  const draft = faulty(core, file, () => core.draftPanels(bag));
  try {
    core.refuseUnsewable(bag, draft);
    return bag;
  } catch (error) {
    if (!(error instanceof core.PatternError)) throw error;
    const { findings } = error;
    const count = findings.length === 1 ? '1 fault' : `${findings.length} faults`;
    throw new Faulty(
      named(file),
      findings.map((f) => ({ kind: f.kind, text: f.text })),
      `${[`${named(file)}: ${count} in the pattern; nothing was written`, ...findings.map((f) => `  ${f.text}`)].join('\n')}\n`,
    );
  }
}

/** A Failure with what is wrong with any of the stances (things that do not fit, forms that reach into the bag) before any is settled. */
export function assertStances(
  core: Core,
  file: string,
  bag: Bag,
  options: Omit<PreviewOptions, 'stance'> = {},
  stances = bag.stances.map((s) => s.name),
): void {
  const faults = stances.flatMap((stance) => {
    try {
      core.prepare(bag, { ...options, stance });
      return [];
    } catch (error) {
      if (error instanceof core.BagError) return error.faults;
      throw error;
    }
  });
  // What is wrong with the bag itself is found in every stance.
  const each = [...new Map(faults.map((f) => [JSON.stringify(f), f])).values()];
  if (each.length > 0) throw new Faulty(named(file), each, faultFailure(file, each).message);
}

/** "tote" of "bags/tote.bag.json": what a file's own folder of results is called. */
export const stemOf = (file: string): string =>
  file === INPUT ? 'standard-input' : file.replace(/^.*[\\/]/, '').replace(/(\.bag)?\.json$|\.html$/i, '') || 'bag';
