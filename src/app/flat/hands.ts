/** Longest that a drawing waits for a button to be let go, ms: a press that ends elsewhere must not hold the table up. */
const LONGEST = 1500;

/**
 * Knows whether a button, a tick or a fold is pressed and not yet let go. A form made anew in between would lose the click: the button that was pressed is not the
 * one that is let go. Lists are left alone: what is let go over their open choices is never heard of here.
 */
export class Hands {
  private held: Promise<void> | null = null;
  constructor(place: HTMLElement) {
    place.addEventListener(
      'pointerdown',
      (e) => {
        const target = e.target as Element;
        if (target.closest('button, label, summary') && !target.closest('select')) this.hold();
      },
      { capture: true },
    );
  }

  /** Resolves once nothing is pressed; the click that a press ends in has been heard by then. */
  async free(): Promise<void> {
    while (this.held) await this.held;
  }

  private hold(): void {
    const held = new Promise<void>((resolve) => {
      const ends = ['pointerup', 'pointercancel'] as const;
      const done = (): void => {
        clearTimeout(timer);
        for (const end of ends) window.removeEventListener(end, done, true);
        // The click comes in the same task as its pointerup.
        setTimeout(() => {
          if (this.held === held) this.held = null;
          resolve();
        });
      };
      const timer = setTimeout(done, LONGEST);
      for (const end of ends) window.addEventListener(end, done, true);
    });
    this.held = held;
  }
}
