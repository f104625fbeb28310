import { h, refill } from '../page/dom.ts';
import { type ComparedCloth, type DrapedCloth, drapesCsv, drapesPlot, drapesTable, sheetWithDrapes } from './core.ts';
import { textBlob } from './download.ts';
import { benchRunner } from './runner.ts';
import { rowsTable } from './side-table.ts';
import { sideWords } from './side-words.ts';

const words = sideWords.drape;

/** What the pieces are cut from, and in which words and units they are told. */
export interface DrapeAsk {
  readonly cloths: readonly ComparedCloth[];
  readonly unit: 'mm' | 'in';
  readonly program: string;
}

export interface DrapeHost {
  readonly say: (line: string) => void;
  /** A drawing with its buttons to take it away. */ readonly figure: (svg: string, what: string) => HTMLElement;
  /** A button that hands a file over. */ readonly file: (label: string, shown: string, ending: string, content: () => Blob) => HTMLButtonElement;
}

/** "Drape": the compared materials as round pieces over a disc, settled when asked and told as they come. */
export class SideDrape {
  readonly element = h('section', { class: 'side-drape', 'aria-label': words.title });
  private readonly runner = benchRunner();
  private readonly runButton = h('button', { type: 'button', class: 'plain', onclick: () => this.run() }, words.run);
  private readonly stopButton = h('button', { type: 'button', class: 'plain', hidden: true, onclick: () => this.stop() }, words.stop);
  private readonly line = h('p', { class: 'reason', role: 'status' });
  private readonly out = h('div', {});
  private ask: DrapeAsk | null = null;
  private drapedFor = '';
  private draped: readonly DrapedCloth[] = [];
  constructor(private readonly host: DrapeHost) {
    this.element.append(
      h('h2', {}, words.title),
      h('p', {}, words.how),
      h('div', { class: 'bench-run' }, this.runButton, this.stopButton),
      this.line,
      this.out,
    );
  }

  /** Other materials take the figures away; another unit writes them anew. */
  show(ask: DrapeAsk): void {
    const key = JSON.stringify(ask.cloths);
    if (key !== this.drapedFor && this.drapedFor !== '') {
      this.runner.stop();
      this.busy(false);
      this.draped = [];
      this.drapedFor = '';
      this.line.textContent = '';
    }
    this.ask = ask;
    this.fill();
  }

  /** The comparison's sheet to hand in, with the drape test where it was settled. */
  onSheet(sheet: string): string {
    const { ask, draped } = this;
    return ask && draped.length > 0
      ? sheetWithDrapes(
          sheet,
          draped.map((c) => c.name),
          drapesTable(draped, ask.unit),
          drapesPlot(draped, ask),
        )
      : sheet;
  }

  private run(): void {
    const { ask } = this;
    if (!ask || this.runner.running) return;
    this.drapedFor = JSON.stringify(ask.cloths);
    this.draped = [];
    this.busy(true);
    this.fill();
    this.runner.ask({ what: 'drapes', cloths: ask.cloths }, (say) => {
      if (say.kind === 'failed' || say.kind === 'faults') {
        this.busy(false);
        this.tell(words.failed);
      } else if (say.kind === 'draped') {
        const fresh = say.cloths.length !== this.draped.length;
        this.draped = say.cloths;
        if (fresh) this.fill();
        if (say.whole) {
          this.busy(false);
          this.tell(words.done(say.cloths.length));
        } else if (say.cloths.length < ask.cloths.length)
          this.line.textContent = words.working(ask.cloths[say.cloths.length].name, say.cloths.length + 1, ask.cloths.length, say.steps);
      }
    });
  }

  private stop(): void {
    this.runner.stop();
    this.busy(false);
    this.tell(words.stopped);
    this.runButton.focus();
  }

  private busy(now: boolean): void {
    this.stopButton.hidden = !now;
    this.runButton.setAttribute('aria-disabled', String(now));
    this.element.dataset.running = String(now);
  }

  private tell(line: string): void {
    this.line.textContent = line;
    this.host.say(line);
  }

  private fill(): void {
    const { ask, draped } = this;
    if (!ask || draped.length === 0) {
      refill(this.out);
      return;
    }
    const svg = drapesPlot(draped, ask);
    this.out.replaceChildren(
      h(
        'div',
        { class: 'side-figures' },
        h(
          'div',
          { class: 'side-scroll', tabindex: '0', role: 'region', 'aria-label': words.figures },
          rowsTable(
            draped.map((c) => c.name),
            drapesTable(draped, ask.unit),
            words.figures,
          ),
        ),
      ),
      this.host.file(words.csv, words.csv, 'csv', () => textBlob(drapesCsv(draped, ask.program), 'text/csv')),
      this.host.figure(svg, words.plot),
    );
  }
}
