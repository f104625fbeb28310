import type { Fault } from '../core.ts';
import { h, refill } from './dom.ts';
import { text } from './text.ts';

/** The faults of a bag file as a table: where, what stands there, what was expected. Empty when there are none. */
export class FaultList {
  readonly element = h('section', { class: 'faults', 'aria-labelledby': 'faults-title', hidden: true });
  private shown: readonly Fault[] = [];
  private refused = false;
  /** `save` hands out the bag that was put aside because it could not be read. */
  constructor(
    private readonly onClose: () => void,
    private readonly save: () => void,
  ) {}

  /** refused: what keeps the bag on the mat from being sewn, listed where the file itself reads. */
  update(found: readonly Fault[], refused: readonly Fault[]): void {
    const faults = found.length > 0 ? found : refused;
    if (faults === this.shown) return;
    this.shown = faults;
    this.refused = found.length === 0;
    this.element.hidden = faults.length === 0;
    if (faults.length === 0) {
      refill(this.element);
      return;
    }
    const listed = faults.slice(0, 50);
    refill(
      this.element,
      h('h2', { id: 'faults-title' }, text.faults.title(faults.length)),
      h(
        'p',
        {},
        this.refused ? text.faults.unsewn : `${text.faults.kept} `,
        this.refused ? null : h('button', { type: 'button', class: 'plain', onclick: this.onClose }, text.faults.close),
        faults.some((f) => f.got === text.file.unread(true)) ? h('button', { type: 'button', class: 'plain', onclick: this.save }, text.faults.saveUnread) : '',
      ),
      h(
        'div',
        { class: 'faults-scroll', tabindex: 0, role: 'region', 'aria-labelledby': 'faults-title' },
        h(
          'table',
          {},
          h('thead', {}, h('tr', {}, ...[text.faults.where, text.faults.got, text.faults.expected].map((t) => h('th', { scope: 'col' }, t)))),
          h(
            'tbody',
            {},
            ...listed.map((fault) =>
              h('tr', {}, h('th', { scope: 'row' }, fault.path || text.faults.wholeFile), h('td', {}, fault.got), h('td', {}, fault.expected)),
            ),
          ),
        ),
      ),
    );
    // Beside the panel it sticks to the top of the view; under it, on a narrow screen, it may lie further down.
    this.element.scrollIntoView({ block: 'nearest' });
  }
}
