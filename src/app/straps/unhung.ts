import { h } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import { AnchorHandles, type HandlesHost } from './anchor-handles.ts';
import type { AnchorTrack } from './core.ts';
import { words } from './words.ts';

/** The bag as drafted: its drawing and where on it the anchors of a strap can lie. */
export interface Drafted {
  readonly svg: string;
  readonly tracks: readonly AnchorTrack[];
}

/** The drawing's own size, px. */
const [WIDTH, HEIGHT] = [168, 132];

/** A thumbnail drawn large: its lines stay as thin as they were, a strap is as wide as it is. */
const thin = (svg: string): string => svg.replace('</style>', '.start path:not(.strap){vector-effect:non-scaling-stroke}</style>');

/** What stands in the screen before anything was hung: the bag as drafted with its anchors to move, and what to do. */
export class Unhung {
  readonly element: HTMLElement;
  private readonly image = h('img', { alt: words.drafted });
  private readonly picture: HTMLElement;
  private readonly handles: AnchorHandles;
  private readonly waiting = h('p', { class: 'straps-waiting', role: 'status' }, words.drawing);
  private drawn = '';
  private tracks: readonly AnchorTrack[] = [];
  private set = (): void => undefined;
  /** `draft` draws the bag there is; null where it cannot be drawn. */
  constructor(
    private readonly draft: (strap: string) => Promise<Drafted | null>,
    host: HandlesHost,
  ) {
    this.handles = new AnchorHandles(host);
    this.picture = h('figure', { class: 'straps-drafted', hidden: true }, this.image, this.handles.element);
    this.element = h('div', { class: 'straps-unhung', hidden: true }, this.waiting, this.picture, h('p', {}, words.nothingHung));
  }

  /** `bag`: changes when another drawing is needed; null: something was hung, nothing is shown here. `now`: where both anchors are, m. */
  show(bag: string | null, strap: string, units: UnitChoice, now: number | null): void {
    this.element.hidden = bag === null;
    if (bag === null) return;
    this.set = () => this.handles.show({ tracks: this.tracks, width: WIDTH, height: HEIGHT }, units, now);
    this.set();
    const key = strap + bag;
    if (key === this.drawn) return;
    this.drawn = key;
    void this.draft(strap).then((made) => {
      if (this.drawn !== key) return;
      this.waiting.hidden = true;
      this.picture.hidden = made === null;
      this.tracks = made?.tracks ?? [];
      // As an image nothing in it can run, whoever wrote the bag's names.
      if (made) this.image.src = `data:image/svg+xml,${encodeURIComponent(thin(made.svg))}`;
      this.set();
    });
  }
}
