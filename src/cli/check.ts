import type { Bag, PreviewOptions } from '../index.ts';
import type { Core } from './core.ts';
import { faultFailure, guarded } from './faults.ts';
import { EXIT, Failure, type Io, readText } from './io.ts';

/** `check FILE`: reads, drafts and meshes the bag in every stance and says what is in it. Exit 0 when nothing is wrong, 2 with every fault listed. */
export async function check(io: Io, core: Core, file: string): Promise<number> {
  const bag = readSewable(core, file, await readText(io, file));
  return guarded(core, file, () => {
    const draft = core.draftPanels(bag);
    const pattern = core.checkPattern(bag, draft);
    assertStances(core, file, bag);
    const scene = core.prepare(bag);
    const panels = draft.panels.map((p) => {
      const [x0, y0, x1, y1] = p.bounds;
      return `  ${p.name}: ${core.formatLength(x1 - x0)} x ${core.formatLength(y1 - y0)}, ${(p.area * 1e4).toFixed(0)} cm2`;
    });
    const care = [...pattern.warnings, ...core.checkBulk(bag, draft)];
    const notes = [...pattern.notes, ...core.checkThread(bag)];
    // "mismatch" is the pattern check's own word for sides that differ by more than 3 mm or 1 %.
    const even = !pattern.warnings.some((f) => f.kind === 'mismatch');
    const q = scene.mesh.quality;
    io.out(
      [
        `${bag.name}: no faults${care.length === 0 ? '' : `, ${care.length} ${care.length === 1 ? 'thing' : 'things'} to look at`}.`,
        `${bag.panels.length} panels, ${bag.seams.length} seams, wanted "${bag.wanted}"`,
        ...panels,
        ...(even ? ['both sides of every seam are of one length (to 3 mm and 1 %), gathers aside'] : []),
        ...(care.length > 0 ? ['a pattern cutter would look at:', ...care.map((f) => `  ${f.text}`)] : []),
        ...(notes.length > 0 ? ['at the cutting table:', ...notes.map((f) => `  ${f.text}`)] : []),
        `options: ${names(bag.options)}`,
        `stances: ${names(bag.stances)}`,
        `mesh at its usual size: ${scene.mesh.vertexCount} points, smallest angle ${q.minAngleDeg.toFixed(0)} deg`,
        '',
      ].join('\n'),
    );
    return EXIT.ok;
  });
}

const names = (list: readonly { readonly name: string }[]): string => list.map((o) => `"${o.name}"`).join(', ');

/** The parsed bag, or a Failure that lists every fault. */
export function readBag(core: Core, file: string, text: string): Bag {
  return guarded(core, file, () => core.parseBag(text));
}

/** The same of a bag that is to be sewn up: a Failure as well where its pattern cannot be sewn as drawn. */
export function readSewable(core: Core, file: string, text: string): Bag {
  const bag = readBag(core, file, text);
  const { faults } = core.checkPattern(
    bag,
    guarded(core, file, () => core.draftPanels(bag)),
  );
  if (faults.length === 0) return bag;
  const count = faults.length === 1 ? '1 fault' : `${faults.length} faults`;
  throw new Failure(`${[`${file}: ${count} in the pattern; nothing was written`, ...faults.map((f) => `  ${f.text}`)].join('\n')}\n`, EXIT.input);
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
  if (each.length > 0) throw faultFailure(file, each);
}
