import '../style/tour.css';
import { h, refill } from '../page/dom.ts';
import { text } from '../page/text.ts';
import { words } from './words.ts';

export interface TourHost {
  readonly say: (line: string) => void;
  /** The tour was gone through or left: it is not offered again. */ readonly left: () => void;
}

/** A place on the page where a question is answered: the first that can be seen is pointed at (controls are folded on narrow screens). */
interface Place {
  readonly at: string;
  readonly hash: string;
  readonly words: string;
  readonly caution?: string;
}
interface Step {
  readonly question: string;
  readonly places: readonly Place[];
}

const { straps } = words;
const STEPS: readonly Step[] = [
  { question: text.tabs.stand, places: [{ at: '.row-verdict', hash: '#stand', words: words.stand }] },
  {
    question: text.tour.straps,
    places: [
      { at: '.tab[href="#straps"]', hash: '#straps', words: straps.screen, caution: straps.caution },
      { at: '.controls [data-key^="straps."]', hash: '#stand', words: straps.fields, caution: straps.caution },
      { at: '.tab[href="#cut"]', hash: '#cut', words: straps.none, caution: straps.caution },
    ],
  },
  { question: text.tabs.swatch, places: [{ at: '.tab[href="#swatch"]', hash: '#swatch', words: words.swatch }] },
];

let running: Tour | null = null;

/** Begins the tour, or goes on with the one that is open. */
export function startTour(host: TourHost): void {
  running ??= new Tour(host);
  running.go(0);
}

/**
 * A card beside the page, not over it: everything stays in reach while it is open. Escape leaves it from anywhere, and the
 * focus goes back to where it was before.
 */
class Tour {
  private readonly from = document.activeElement as HTMLElement | null;
  private readonly title = h('h2', { id: 'tour-title', tabindex: -1 });
  private readonly body = h('div', { class: 'tour-body' });
  private readonly back = h('button', { type: 'button', class: 'plain', onclick: () => this.go(this.step - 1) }, words.back);
  private readonly next = h('button', { type: 'button', class: 'plain strong', onclick: () => this.go(this.step + 1) });
  private readonly element = h(
    'section',
    { class: 'tour', role: 'dialog', 'aria-modal': 'false', 'aria-labelledby': 'tour-title' },
    this.title,
    this.body,
    h('div', { class: 'tour-row' }, this.back, this.next, h('button', { type: 'button', class: 'plain', onclick: () => this.leave() }, words.leave)),
  );
  private step = 0;
  private target: Element | null = null;
  private readonly onKey = (event: KeyboardEvent): void => {
    if (event.key !== 'Escape' || document.querySelector('dialog[open]')) return;
    event.preventDefault();
    this.leave();
  };
  constructor(private readonly host: TourHost) {
    document.body.append(this.element);
    document.addEventListener('keydown', this.onKey);
  }

  go(step: number): void {
    if (step >= STEPS.length) {
      this.leave();
      return;
    }
    this.step = Math.max(0, step);
    const { question, places } = STEPS[this.step];
    const place = places.find((p) => document.querySelector(p.at)?.checkVisibility()) ?? places[places.length - 1];
    if ((window.location.hash || '#stand') !== place.hash) window.location.hash = place.hash;
    this.point(document.querySelector(place.at));
    this.title.textContent = question;
    refill(
      this.body,
      h('p', { class: 'tour-count' }, words.of(this.step + 1, STEPS.length)),
      h('p', {}, place.words),
      place.caution ? h('p', { class: 'tour-count' }, place.caution) : null,
    );
    this.back.hidden = this.step === 0;
    this.next.textContent = this.step + 1 < STEPS.length ? words.next : words.done;
    // Read out from its heading on; the words follow it in reading order.
    this.title.focus({ preventScroll: true });
    this.host.say(place.words);
  }

  private point(target: Element | null): void {
    this.target?.classList.remove('toured');
    // A field is pointed out with its label.
    this.target = target?.closest('.lil-controller') ?? target;
    this.target?.classList.add('toured');
    // Turning to another question shows its screen only after this turn of the event loop.
    setTimeout(() => this.target?.scrollIntoView({ block: 'center', inline: 'nearest' }), 50);
  }

  private leave(): void {
    this.point(null);
    document.removeEventListener('keydown', this.onKey);
    this.element.remove();
    running = null;
    this.host.left();
    this.host.say(words.left);
    const there = this.from?.isConnected && this.from !== document.body ? this.from : null;
    (there ?? document.querySelector<HTMLElement>('[data-tour]'))?.focus();
  }
}
