import type { Bag, Colouring, Result } from '../core.ts';
import { text } from '../page/text.ts';
import type { Look } from './board-data.ts';
import type { DraftingAsk, DraftingSay } from './drafting-worker.ts';
import '../style/drafting.css';

export { FlatBoard } from './board.ts';

type Sewn = Extract<DraftingSay, { kind: 'sewn' }>;
type Question = DraftingAsk extends infer A ? (A extends DraftingAsk ? Omit<A, 'id'> : never) : never;

export type { Look } from './board-data.ts';
export type DrawEdit = Extract<DraftingAsk, { kind: 'draw' }>['edit'];
export type NewPanel = Extract<DraftingAsk, { kind: 'begin' }>['panel'];
export type Move = Extract<DraftingAsk, { kind: 'move' }>['move'];

/** The drafting worker, started when first asked: draws the flat panels and knows the bags to start from. */
export class Drafting {
  private worker: Worker | null = null;
  private readonly waiting = new Map<number, (say: DraftingSay) => void>();
  private counter = 0;
  private sewing: { readonly bag: Bag; readonly edgeLength: number; readonly shape: Promise<Sewn | null> } | null = null;

  async templates(): Promise<Extract<DraftingSay, { kind: 'templates' }>['list']> {
    const say = await this.ask({ kind: 'templates' });
    return say.kind === 'templates' ? say.list : [];
  }

  /** A bag's sewn shape as a small drawing, with its size, and where on it the anchors of a strap can lie; null when it cannot be sewn up. */
  async start(bag: string, strap?: string): Promise<Extract<DraftingSay, { kind: 'start' }> | null> {
    const say = await this.ask({ kind: 'start', bag, strap });
    return say.kind === 'start' ? say : null;
  }

  async flat(bag: string, look: Look): Promise<DraftingSay> {
    return this.ask({ kind: 'flat', bag, look });
  }

  async move(bag: string, move: Move, look: Look): Promise<DraftingSay> {
    return this.ask({ kind: 'move', bag, move, look });
  }

  async type(bag: string, handle: string, control: number, typed: string, look: Look): Promise<DraftingSay> {
    return this.ask({ kind: 'type', bag, handle, control, typed, look });
  }

  /** The bag after an edit of its drawing. */
  async draw(bag: string, edit: DrawEdit, look: Look): Promise<DraftingSay> {
    return this.ask({ kind: 'draw', bag, edit, look });
  }

  /** A new bag with one panel. */
  async begin(name: string, panel: NewPanel, look: Look): Promise<DraftingSay> {
    return this.ask({ kind: 'begin', name, panel, look });
  }

  /** The sewn shape of a bag, before anything is settled; null when it cannot be sewn up. Asked twice for the same bag it is sewn once. */
  sewn(bag: Bag, edgeLength: number): Promise<Sewn | null> {
    if (this.sewing?.bag !== bag || this.sewing.edgeLength !== edgeLength)
      this.sewing = { bag, edgeLength, shape: this.ask({ kind: 'sew', bag, edgeLength }).then((say) => (say.kind === 'sewn' ? say : null)) };
    return this.sewing.shape;
  }

  /** A still picture of one result, for machines without WebGL, with a map on it or none. */
  async still(result: Result, colouring: Colouring | null): Promise<string> {
    const say = await this.ask({ kind: 'still', result, colouring });
    return say.kind === 'still' ? say.svg : '';
  }

  /** Whoever waits is answered as by a refusal, so that nothing hangs; the next question starts a fresh worker. */
  private crashed(): void {
    this.worker?.terminate();
    this.worker = null;
    this.sewing = null;
    const waiting = [...this.waiting];
    this.waiting.clear();
    for (const [id, listen] of waiting) listen({ id, kind: 'refused', faults: [{ path: '', ...text.file.drawingStopped }] });
  }

  private ask(question: Question): Promise<DraftingSay> {
    const id = ++this.counter;
    if (!this.worker) {
      this.worker = new Worker(new URL('./drafting-worker.ts', import.meta.url), { type: 'module' });
      this.worker.onmessage = (event: MessageEvent<DraftingSay>) => {
        this.waiting.get(event.data.id)?.(event.data);
        this.waiting.delete(event.data.id);
      };
      this.worker.onerror = (event) => {
        event.preventDefault();
        this.crashed();
      };
    }
    return new Promise((resolve) => {
      this.waiting.set(id, resolve);
      this.worker!.postMessage({ ...question, id });
    });
  }
}
