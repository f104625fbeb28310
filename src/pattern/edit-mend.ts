import { type BagDocument, lengthIn, type Path } from '../bag/index.ts';
import type { Bag } from '../bag/types.ts';
import { checkPattern, type Draft, type Finding } from '../panels/index.ts';
import { panelForm, partsOf, record, sidesOf } from './edit-document.ts';
import type { DrawEdit } from './edit-kinds.ts';

/** One way to put a finding right, for a button: what it does, in words, and the edit. */
export interface Mend {
  readonly say: string;
  readonly edit: DrawEdit;
}

/** Something of the pattern that is not right yet. */
export interface Trouble {
  readonly finding: Finding;
  /** false: it can be sewn, but needs a look. */ readonly fault: boolean;
  readonly mends: readonly Mend[];
}

/** What is not right yet, faults first, each with what would mend it. */
export function troubles(document: BagDocument, bag: Bag, draft: Draft): Trouble[] {
  const { faults, warnings } = checkPattern(bag, draft);
  const of = (finding: Finding, fault: boolean): Trouble => ({ finding, fault, mends: mendsOf(document, bag, draft, finding) });
  return [...faults.map((f) => of(f, true)), ...warnings.map((f) => of(f, false))];
}

/** Kinds of findings that say an edge is free. */
const FREE: readonly Finding['kind'][] = ['unsewn'];

function mendsOf(document: BagDocument, bag: Bag, draft: Draft, f: Finding): Mend[] {
  if (FREE.includes(f.kind) && f.edge !== null)
    return [{ say: `Leave ${f.panel}.${f.edge} open`, edit: { do: 'open', panel: f.panel, edge: f.edge, open: true } }];
  if (f.kind === 'loose panel' && bag.panels.length > 1) return [{ say: `Take ${f.panel} off the table`, edit: { do: 'delete panel', panel: f.panel } }];
  // Further sides of a seam of three or more are seams of the draft alone.
  const seam = f.seam?.replace(/\+\d+$/, '') ?? null;
  if (seam === null || record(document.value.seams)?.[seam] === undefined) return [];
  const drafted = draft.seams.find((s) => s.name === f.seam);
  const unpick: Mend = { say: `Unpick seam ${seam}`, edit: { do: 'unpick', seam } };
  switch (f.kind) {
    case 'twisted':
      return [{ say: 'Sew it the other way round', edit: { do: 'turn', seam, reversed: !(drafted?.reversed ?? true) } }, unpick];
    case 'chain gap':
      return [{ say: 'Sew the rounded corners with it', edit: { do: 'fill', seam } }, unpick];
    case 'mismatch':
      return [
        ...fitted(document, bag, seam),
        ...(f.value > 0 && drafted && drafted.ratio > 1.02 && drafted.ratio <= 6 ? [gathered(seam, drafted.ratio)] : []),
        unpick,
      ];
    case 'sewn twice':
    case 'sewn over':
    case 'mouth sewn':
    case 'mirrored':
    case 'crossed':
    case 'turned round':
    case 'chain broken':
    case 'opening sewn':
      return [unpick];
    default:
      return [];
  }
}

const gathered = (seam: string, ratio: number): Mend => ({
  say: `Gather it in, ${ratio.toFixed(2)} to 1`,
  edit: { do: 'seam', seam, choice: { gather: Number(ratio.toFixed(3)) } },
});

/** Which edge of a rectangle hangs on which of its sizes. */
const SIZE_OF: Readonly<Record<string, 'width' | 'height'>> = { bottom: 'width', top: 'width', left: 'height', right: 'height' };

/** A side that is one whole edge of a rectangle with sharp corners can be cut to the length of the other side. */
function fitted(document: BagDocument, bag: Bag, seam: string): Mend[] {
  const sides = sidesOf(record(document.value.seams)?.[seam]);
  if (sides.length !== 2) return [];
  return sides.flatMap((side, i): Mend[] => {
    const { panel, edge, rest } = partsOf(side[0]);
    const size = SIZE_OF[edge];
    const shape = record(panelForm(document, panel).rectangle);
    const other = sides[1 - i];
    if (
      side.length !== 1 ||
      rest !== '' ||
      !size ||
      !shape ||
      shape.radius !== undefined ||
      other.some((r) => partsOf(r).rest !== '' || partsOf(r).panel === panel)
    )
      return [];
    const text = other.map((r) => `edge(${r})`).join(' + ');
    // A length that hangs on this very panel would lead back to itself.
    if (lengthIn(bag, text) === null) return [];
    const path: Path = ['panels', panel, 'rectangle', size];
    return [{ say: `Cut ${panel} to fit`, edit: { do: 'write', path, text } }];
  });
}
