import {
  type Bag,
  type BagDocument,
  BagError,
  type BagMesh,
  type Colouring,
  type DrawEdit,
  type Edited,
  edited,
  handlesOf,
  type Move,
  moved,
  multipleOf,
  type NewPanel,
  parseBag,
  parseBagDocument,
  picture,
  type Result,
  readQuantity,
  type SizeChange,
  sew,
  startedBag,
  templates,
  withValue,
} from '../../index.ts';
import { type Board, boardOf, type Look } from './board-data.ts';
import { type Drafted, startOf } from './start-of.ts';

/** What the drafting worker is asked; its answers carry the same number. A worker of its own keeps all this out of the first view's script. */
export type DraftingAsk = { readonly id: number } & (
  | { readonly kind: 'templates' }
  | { readonly kind: 'start'; readonly bag: string /** Its anchors are to be moved. */; readonly strap?: string }
  | { readonly kind: 'still'; readonly result: Result; readonly colouring: Colouring | null }
  | { readonly kind: 'flat'; readonly bag: string; readonly look: Look }
  | { readonly kind: 'move'; readonly bag: string; readonly move: Move; readonly look: Look }
  | { readonly kind: 'type'; readonly bag: string; readonly handle: string; readonly control: number; readonly typed: string; readonly look: Look }
  | { readonly kind: 'draw'; readonly bag: string; readonly edit: DrawEdit; readonly look: Look }
  | { readonly kind: 'begin'; readonly name: string; readonly panel: NewPanel; readonly look: Look }
  | { readonly kind: 'sew'; readonly bag: Bag; readonly edgeLength: number }
);
export type DraftingSay = { readonly id: number } & (
  | {
      readonly kind: 'templates';
      readonly list: readonly { readonly name: string; readonly title: string; readonly question: string; readonly text: string }[];
    }
  | ({ readonly kind: 'start' } & Drafted)
  | { readonly kind: 'still'; readonly svg: string }
  | { readonly kind: 'flat'; readonly board: Board }
  | { readonly kind: 'moved'; readonly bag: string; readonly board: Board; readonly changes: readonly SizeChange[] }
  | {
      readonly kind: 'drawn';
      readonly bag: string;
      readonly board: Board;
      readonly notes: readonly string[];
      readonly made: Edited['made'];
    }
  | { readonly kind: 'sewn'; readonly mesh: BagMesh; readonly drafted: Float64Array }
  | { readonly kind: 'refused'; readonly faults: readonly { readonly path: string; readonly got: string; readonly expected: string }[] }
);

/**
 * The still picture without the figures under it and the words at its left: the page's own table and headings say those.
 * What it clips to is its mat; the words take the left fifth of a picture of one option.
 */
function onlyTheMat(svg: string): string {
  const mat = /<clipPath id="mat"><rect x="[^"]*" y="[^"]*" width="([^"]*)" height="([^"]*)"/.exec(svg);
  if (!mat) return svg;
  const width = Number(mat[1]);
  const left = 0.2 * width;
  return svg.replace(
    / width="[^"]*" height="[^"]*" viewBox="[^"]*"/,
    ` width="${width - left}" height="${mat[2]}" viewBox="${left} 0 ${width - left} ${mat[2]}"`,
  );
}

const unitOf = (look: Look): 'mm' | 'in' => (look.units !== 'metric' ? 'in' : 'mm');
const told = (d: BagDocument): string => JSON.stringify(d.value, null, 2);

/** A typed size: a figure changes what its link says; a formula of one's own is written where the size stands. */
function typed(ask: Extract<DraftingAsk, { kind: 'type' }>): DraftingSay {
  const { document, bag } = parseBagDocument(ask.bag);
  const control = handlesOf(document, bag).find((h) => h.id === ask.handle)?.controls[ask.control];
  if (!control) return { id: ask.id, kind: 'refused', faults: [] };
  const reading = readQuantity(ask.typed, 'length');
  if (reading.ok) return move({ ...ask, kind: 'move', move: { handle: ask.handle, control: ask.control, value: reading.value } });
  const made = parseBagDocument(withValue(document, control.path, ask.typed).value);
  const changes = [
    { parameter: null, before: control.written, after: ask.typed, replaced: multipleOf(control.written) && !multipleOf(ask.typed) ? control.written : null },
  ];
  return { id: ask.id, kind: 'moved', bag: told(made.document), board: boardOf(made.document, made.bag, ask.look), changes };
}

function move(ask: Extract<DraftingAsk, { kind: 'move' }>): DraftingSay {
  const { document, bag } = parseBagDocument(ask.bag);
  const before = handlesOf(document, bag).find((h) => h.id === ask.move.handle);
  const made = moved(document, bag, ask.move, unitOf(ask.look));
  if (!made || !before) return { id: ask.id, kind: 'refused', faults: [] };
  let { look } = ask;
  const after = handlesOf(made.document, made.bag).find((h) => h.id === ask.move.handle);
  if (look.layout && before.shift && after && 'by' in ask.move) {
    // A panel that is measured from the corner being moved goes with it, so that its far corner stays where it lies.
    const [dx, dy] = [before.at[0] + ask.move.by[0] - after.at[0], before.at[1] + ask.move.by[1] - after.at[1]];
    const at = look.layout.at.map((o, p) => (bag.panels[p].name === before.panel ? { ...o, x: o.x + 1000 * dx, y: o.y - 1000 * dy } : o));
    look = { ...look, layout: { ...look.layout, at } };
  }
  return { id: ask.id, kind: 'moved', bag: told(made.document), board: boardOf(made.document, made.bag, look), changes: made.changes };
}

/** An edit of the drawing; what it names may be gone, or not to be edited so. */
function drawn(id: number, made: Edited | null, look: Look): DraftingSay {
  if (!made) return { id, kind: 'refused', faults: [] };
  return { id, kind: 'drawn', bag: told(made.document), board: boardOf(made.document, made.bag, look), notes: made.notes, made: made.made };
}

function answer(ask: DraftingAsk): DraftingSay {
  switch (ask.kind) {
    case 'templates':
      return { id: ask.id, kind: 'templates', list: templates() };
    case 'start':
      return { id: ask.id, kind: 'start', ...startOf(parseBag(ask.bag), ask.strap) };
    case 'still':
      return { id: ask.id, kind: 'still', svg: onlyTheMat(picture([ask.result], { colourings: [ask.colouring], names: false })) };
    case 'sew':
      return { id: ask.id, kind: 'sewn', ...sew(ask.bag, ask.edgeLength) };
    case 'move':
      return move(ask);
    case 'type':
      return typed(ask);
    case 'draw': {
      const { document, bag } = parseBagDocument(ask.bag);
      return drawn(ask.id, edited(document, bag, ask.edit, unitOf(ask.look)), ask.look);
    }
    case 'begin':
      return drawn(ask.id, startedBag(ask.name, ask.panel), ask.look);
    default: {
      const { document, bag } = parseBagDocument(ask.bag);
      return { id: ask.id, kind: 'flat', board: boardOf(document, bag, ask.look) };
    }
  }
}

/** A refused edit comes back with its faults; the bag stays as it was. */
function safely(ask: DraftingAsk): DraftingSay {
  try {
    return answer(ask);
  } catch (error) {
    if (error instanceof BagError) return { id: ask.id, kind: 'refused', faults: error.faults };
    throw error;
  }
}

self.onmessage = (event: MessageEvent<DraftingAsk>) => self.postMessage(safely(event.data));
