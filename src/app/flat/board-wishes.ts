/** What the drafting table asks of the page. */
export interface BoardWishes {
  /** Takes a changed bag; false when it was refused. `opened`: another bag. */ commit(bag: string, what: string, opened: boolean): boolean;
  /** The bag there is now. */ bag(): string;
  say(words: string): void;
  point(panel: string | null): void;
}
