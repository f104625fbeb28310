import type { Bag } from '../index.ts';
import type { Core } from './core.ts';
import { faultFailure } from './faults.ts';
import { EXIT, type Io, readText } from './io.ts';

/** `check FILE`: reads, drafts and meshes the bag and says what is in it. Exit 0 when nothing is wrong, 2 with every fault listed. */
export async function check(io: Io, core: Core, file: string): Promise<number> {
  const bag = readBag(core, file, await readText(io, file));
  try {
    const draft = core.draftPanels(bag);
    const pattern = core.checkPattern(bag, draft);
    if (pattern.faults.length > 0) {
      io.err(
        [
          `${file}: ${pattern.faults.length === 1 ? '1 fault' : `${pattern.faults.length} faults`} in the pattern`,
          ...pattern.faults.map((f) => `  ${f.text}`),
          '',
        ].join('\n'),
      );
      return EXIT.input;
    }
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
  } catch (error) {
    if (error instanceof core.BagError) throw faultFailure(file, error.faults);
    throw error;
  }
}

const names = (list: readonly { readonly name: string }[]): string => list.map((o) => `"${o.name}"`).join(', ');

/** The parsed bag, or a Failure that lists every fault. */
export function readBag(core: Core, file: string, text: string): Bag {
  try {
    return core.parseBag(text);
  } catch (error) {
    if (error instanceof core.BagError) throw faultFailure(file, error.faults);
    throw error;
  }
}
