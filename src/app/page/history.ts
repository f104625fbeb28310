/** One state of the bag that can be gone back to. */
export interface Step {
  /** The bag file's text. */ readonly text: string;
  /** What was changed to come from this state to the next, in words for the buttons. */ readonly what: string;
  /** The change opened another bag, so that columns and results begin afresh. */ readonly opened: boolean;
  /** Which of the maker's bags the text is of. */ readonly id?: string;
}

/** Most steps kept, and most characters of them: a browser keeps about five million for a whole site. */
export const MOST_STEPS = 200;
const MOST_TEXT = 1_000_000;

/**
 * Undo and redo as bag texts: whatever the page changes in the bag, the whole text before it is kept, so nothing can be forgotten.
 * Bounded; the oldest steps go first. Returned steps carry the text to put back.
 */
export class History {
  private past: Step[] = [];
  private future: Step[] = [];

  get undoable(): Step | null {
    return this.past[this.past.length - 1] ?? null;
  }

  get redoable(): Step | null {
    return this.future[this.future.length - 1] ?? null;
  }

  get length(): number {
    return this.past.length;
  }

  /** Keeps the text before a change. A new change forgets what was undone. */
  keep(before: string, what: string, opened: boolean, id?: string): void {
    this.past.push({ text: before, what, opened, ...(id === undefined ? {} : { id }) });
    this.future = [];
    this.trim();
  }

  /** The step to go back to, `now` kept for redo; null at the beginning. */
  undo(now: string, id?: string): Step | null {
    const step = this.past.pop() ?? null;
    if (step) this.future.push({ ...step, text: now, ...(id === undefined ? {} : { id }) });
    return step;
  }

  redo(now: string, id?: string): Step | null {
    const step = this.future.pop() ?? null;
    if (step) this.past.push({ ...step, text: now, ...(id === undefined ? {} : { id }) });
    return step;
  }

  private trim(): void {
    let room = MOST_TEXT;
    let from = this.past.length;
    while (from > 0 && this.past.length - from < MOST_STEPS && room >= this.past[from - 1].text.length) room -= this.past[--from].text.length;
    // The last step is always kept, however long its text: an opened file must be undoable.
    if (from > 0) this.past.splice(0, Math.min(from, this.past.length - 1));
  }

  write(): string {
    return JSON.stringify({ past: this.past, future: this.future });
  }

  /** Takes up a written history; anything that is not one is an empty history. */
  read(written: string | null): void {
    try {
      const value = JSON.parse(written ?? '{}') as { past?: unknown; future?: unknown };
      this.past = steps(value.past);
      this.future = steps(value.future);
    } catch {
      this.past = [];
      this.future = [];
    }
  }
}

const steps = (value: unknown): Step[] =>
  Array.isArray(value)
    ? value.filter((s): s is Step => typeof s?.text === 'string' && typeof s.what === 'string' && typeof s.opened === 'boolean').slice(-MOST_STEPS)
    : [];

/**
 * Hears Ctrl/Cmd+Z, Ctrl/Cmd+Shift+Z and Ctrl+Y anywhere on the page. A field in which something has been typed and not yet entered keeps
 * the browser's own undo of its letters.
 */
export function listenForUndo(undo: () => void, redo: () => void): void {
  let typing: EventTarget | null = null;
  document.addEventListener('input', (event) => {
    if (event.target instanceof HTMLInputElement && event.target.type === 'text') typing = event.target;
  });
  for (const kind of ['change', 'focusout']) {
    document.addEventListener(kind, (event) => {
      if (event.target === typing) typing = null;
    });
  }
  // Heard on the way down: the panel of fields keeps its keys to itself.
  const press = (event: KeyboardEvent): void => {
    // What Enter took is entered, though the field keeps the focus.
    if (event.key === 'Enter' && event.target === typing) typing = null;
    if (!(event.ctrlKey || event.metaKey) || event.altKey || (typing !== null && event.target === typing)) return;
    const key = event.key.toLowerCase();
    const back = key === 'z' && !event.shiftKey;
    const again = (key === 'z' && event.shiftKey) || (key === 'y' && event.ctrlKey && !event.shiftKey);
    if (!back && !again) return;
    event.preventDefault();
    if (back) undo();
    else redo();
  };
  window.addEventListener('keydown', press, { capture: true });
}
