import { h } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import { type TestedPiece, testCsv, testDrawing, testSheet, VERSION } from './core.ts';
import { overhangOf, size } from './dimensions.ts';
import { download, pngOf, textBlob } from './download.ts';
import type { Ready } from './entries.ts';
import type { Piece, Reading } from './protocol.ts';
import { words } from './words.ts';

/** A tested piece at rest. */
export interface Tested {
  readonly reading: Reading;
  readonly piece: Piece;
  readonly x: Float32Array;
  readonly ready: Ready;
}

/** Buttons that take one test away: its figures as CSV, its drawing as SVG and PNG, a sheet to hand in. */
export class TestTake {
  readonly element = h('div', { class: 'bench-take', hidden: true });
  private readonly line = h('p', { class: 'reason', role: 'status' });
  private tested: Tested | null = null;
  private bolt = '';
  private units: UnitChoice = 'metric';
  constructor() {
    const { take } = words;
    const button = (label: string, act: (t: Tested, p: TestedPiece) => Promise<string> | string): HTMLElement =>
      h('button', { type: 'button', class: 'plain', onclick: () => void this.run(act) }, label);
    const stem = (t: Tested): string => `${t.ready.cloth?.name ?? words.froms.figures} ${t.reading.test}`;
    const drawn = (t: Tested, p: TestedPiece): string => testDrawing(t.reading, p, t.piece.triVerts, t.x);
    this.element.append(
      button(take.csv, (t, p) => download(stem(t), 'csv', textBlob(testCsv(t.reading, p), 'text/csv'))),
      button(take.svg, (t, p) => download(stem(t), 'svg', textBlob(drawn(t, p), 'image/svg+xml'))),
      button(take.png, async (t, p) => download(stem(t), 'png', await pngOf(drawn(t, p)))),
      button(take.sheet, (t, p) => download(`${stem(t)} sheet`, 'html', textBlob(testSheet(t.reading, p, drawn(t, p)), 'text/html'))),
      this.line,
    );
  }

  /** null: what stands in the fields has not been tested. */
  show(tested: Tested | null, bolt: string, units: UnitChoice): void {
    this.tested = tested;
    this.units = units;
    this.bolt = bolt;
    this.element.hidden = tested === null;
    this.line.textContent = '';
  }

  private async run(act: (t: Tested, p: TestedPiece) => Promise<string> | string): Promise<void> {
    const { tested, bolt } = this;
    if (!tested) return;
    const { ready, reading } = tested,
      { title, how } = words.tests[reading.test];
    const piece: TestedPiece = {
      title,
      how,
      bolt,
      cloth: ready.cloth?.name ?? words.froms.figures,
      story: ready.cloth?.story ?? words.froms.figures,
      arealMass: ready.sheet.arealMass,
      overhang: overhangOf(ready.sheet, ready.ask.cut),
      cut: ready.ask.cut,
      mesh: ready.ask.mesh,
      size: (m) => size(m, this.units),
      program: `slumpline ${VERSION}`,
    };
    try {
      this.line.textContent = words.take.saved(await act(tested, piece));
    } catch {
      this.line.textContent = words.take.notSaved;
    }
  }
}
