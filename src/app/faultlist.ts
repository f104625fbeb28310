import type { Fault } from './core.ts';
import { h, refill } from './dom.ts';
import { text } from './text.ts';

/** The faults of a bag file as a table: where, what stands there, what was expected. Empty when there are none. */
export class FaultList {
  readonly element = h('section', { class: 'faults', 'aria-labelledby': 'faults-title', hidden: true });
  /** `save` hands out the bag that was put aside because it could not be read. */
  constructor(
    private readonly onClose: () => void,
    private readonly save: () => void,
  ) {}

  update(faults: readonly Fault[]): void {
    this.element.hidden = faults.length === 0;
    if (faults.length === 0) {
      refill(this.element);
      return;
    }
    const shown = faults.slice(0, 50);
    refill(
      this.element,
      h('h2', { id: 'faults-title' }, text.faults.title(faults.length)),
      h(
        'p',
        {},
        `${text.faults.kept} `,
        h('button', { type: 'button', class: 'plain', onclick: this.onClose }, text.faults.close),
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
            ...shown.map((fault) =>
              h('tr', {}, h('th', { scope: 'row' }, fault.path || text.faults.wholeFile), h('td', {}, fault.got), h('td', {}, fault.expected)),
            ),
          ),
        ),
      ),
    );
  }
}
