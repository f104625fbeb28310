import type { UnitChoice } from '../page/format.ts';
import type { Board, BoardHandle } from './board-data.ts';
import type { Look, Move } from './drafting.ts';
import type { DraftingSay } from './drafting-worker.ts';
import { partName } from './marks.ts';
import { gridOf, type Snapped, snapped } from './snap.ts';
import { words } from './words.ts';

export interface DragHost {
  readonly board: Board;
  readonly units: UnitChoice;
  ask(move: Move, look: Partial<Look>): Promise<DraftingSay>;
  /** The worker's answer for a place on the way; `why` names what caught the part. */ follow(say: DraftingSay, why: readonly string[]): void;
}

/** One part of a panel being dragged: from where it was taken, and where it is wanted now. */
export class Drag {
  private wish: Snapped | null = null;
  private busy = false;
  private over = false;
  constructor(
    readonly handle: BoardHandle,
    private readonly start: DOMPoint,
    private readonly host: DragHost,
  ) {}

  /** How far the part has been moved, m; null: it was only pressed. */
  get by(): readonly [number, number] | null {
    const { wish, handle } = this;
    return wish && [wish.at[0] - handle.at[0], wish.at[1] - handle.at[1]];
  }

  /** Moves it under a place of the sheet, mm; `scale`: screen px per mm. */
  pull(now: DOMPoint, scale: number): void {
    const { handle, start, host } = this;
    const corners = host.board.handles.filter((k) => k.kind === 'corner' && k.panel === handle.panel && !handle.edges.some((e) => k.edges.includes(e)));
    this.wish = snapped([handle.at[0] + (now.x - start.x) / 1000, handle.at[1] - (now.y - start.y) / 1000], {
      grid: gridOf(host.units),
      reach: 6 / Math.abs(scale) / 1000,
      neighbours: handle.kind === 'corner' ? corners.map((k) => ({ name: partName(k), at: k.at })) : [],
      centre: host.board.handles.some((k) => k.panel === handle.panel && k.id.endsWith('(left)')) ? words.mirrorLine : null,
    });
    void this.follow();
  }

  end(): void {
    this.over = true;
  }

  /** One question to the worker at a time, always with the newest place. */
  private async follow(): Promise<void> {
    const { wish, by, host } = this;
    if (!wish || !by || this.busy) return;
    this.busy = true;
    const say = await host.ask({ handle: this.handle.id, by: [...by] }, { layout: host.board.layout, text: host.board.text });
    this.busy = false;
    if (this.over) return;
    host.follow(
      say,
      wish.why.flatMap((w) => (w === null ? [] : [w === words.mirrorLine ? w : words.level(w)])),
    );
    if (this.wish !== wish) void this.follow();
  }
}
