import { h } from '../page/dom.ts';
import { mass, type UnitChoice } from '../page/format.ts';
import type { Board } from './board-data.ts';
import type { TrimWishes } from './closure-form.ts';
import type { DrawEdit } from './drafting.ts';
import { button, choices, field, pick, sizeText } from './form-parts.ts';
import { spotOf, spotRows, type TypedSpot, usualSpot } from './spot-fields.ts';
import { trim as words } from './trim-words.ts';

type Kind = Extract<DrawEdit, { do: 'hardware' }>['hardware']['kind'];
type Typed = 'inset' | 'size' | 'height' | 'mass';

/** A weight as it is typed: a bare figure is in grams. */
export const withGrams = (typed: string): string => (/^[\d.,]+$/.test(typed.trim()) ? `${typed.trim().replace(',', '.')} g` : typed.trim());

/** Feet under a panel, or a piece of metal at a place. */
export class MetalForm {
  private kind: Kind = 'foot';
  private panel = '';
  private count: 4 | 5 | 6 = 4;
  private spot: TypedSpot | null = null;
  private typed: Partial<Record<Typed, string>> = {};
  constructor(private readonly wishes: TrimWishes) {}

  /** A place was pressed: a piece is put there at once. */
  press(place: { readonly panel: string; readonly at: readonly [number, number] }): void {
    this.wishes.draw({ do: 'hardware', hardware: { kind: this.kind, at: [place], ...this.sizes(['size', 'mass']) } });
  }

  /** What was typed; '' is left to be the usual. */
  private sizes<K extends Typed>(keys: readonly K[]): Partial<Record<K, string>> {
    return Object.fromEntries(
      keys.flatMap((key) => {
        const v = this.typed[key]?.trim() ?? '';
        return v === '' ? [] : [[key, key === 'mass' ? withGrams(v) : this.wishes.withUnit(v)]];
      }),
    ) as Partial<Record<K, string>>;
  }

  fill(board: Board, units: UnitChoice): HTMLElement[] {
    const kinds = Object.entries(words.metals) as (readonly [Kind, string])[];
    const text = (label: string, key: Typed, note: string, usual = ''): HTMLElement => {
      const made = field(label, `metal ${key}`, this.typed[key] ?? usual, null, note);
      made.input.addEventListener('input', () => {
        this.typed[key] = made.input.value;
      });
      return made.row;
    };
    const usual = board.trims.hardwareKinds[this.kind];
    const across = text(words.across, 'size', words.usual(usual ? sizeText(usual.size, units) : ''));
    return [
      pick(words.kind, 'metal kind', kinds, this.kind, (kind) => {
        this.kind = kind as Kind;
        this.typed = {};
        this.wishes.picked();
      }),
      ...(this.kind === 'foot' ? this.footRows(board, units, text, across) : this.pieceRows(board, units, text, across, usual?.mass ?? 0)),
    ];
  }

  private footRows(
    board: Board,
    units: UnitChoice,
    text: (label: string, key: Typed, note: string, usual?: string) => HTMLElement,
    across: HTMLElement,
  ): HTMLElement[] {
    const base = board.panels.find((_, i) => board.about[i].role === 'base');
    if (!board.panels.includes(this.panel)) this.panel = base ?? board.panels[0];
    const inset = units !== 'metric' ? '3/4 in' : '20 mm';
    const counts = (['4', '5', '6'] as const).map((value) => ({ value, label: value }));
    const put = (): void =>
      this.wishes.draw({
        do: 'feet',
        panel: this.panel,
        feet: { count: this.count, inset: this.wishes.withUnit((this.typed.inset ?? inset).trim() || inset), ...this.sizes(['size', 'height']) },
      });
    return [
      pick(
        words.under,
        'metal panel',
        board.panels.map((p) => [p, p] as const),
        this.panel,
        (panel) => {
          this.panel = panel;
        },
      ),
      choices(words.count, counts, String(this.count) as '4' | '5' | '6', (v) => {
        this.count = Number(v) as 4 | 5 | 6;
      }),
      text(words.footInset, 'inset', '', inset),
      across,
      text(words.height, 'height', words.heightUsual(sizeText(board.trims.footHeight, units))),
      h('div', { class: 'sheet-buttons' }, button(words.putOn, 'metal do', put, { strong: true })),
    ];
  }

  private pieceRows(
    board: Board,
    units: UnitChoice,
    text: (label: string, key: Typed, note: string, usual?: string) => HTMLElement,
    across: HTMLElement,
    each: number,
  ): HTMLElement[] {
    const inset = units !== 'metric' ? '1/2 in' : '12 mm';
    if (!this.spot || !board.edges.some((e) => e.panel === this.spot?.panel && e.edge === this.spot.edge)) this.spot = usualSpot(board, board.panels[0], inset);
    const { spot } = this;
    const put = (): void =>
      this.wishes.draw({ do: 'hardware', hardware: { kind: this.kind, at: [spotOf(board, spot, this.wishes.withUnit)], ...this.sizes(['size', 'mass']) } });
    return [
      h('p', { class: 'small' }, words.metalHint),
      ...spotRows(board, 'metal', words.on, spot, this.wishes.picked),
      across,
      text(words.mass, 'mass', words.massUsual(mass(each))),
      h('div', { class: 'sheet-buttons' }, button(words.putOn, 'metal do', put, { strong: true })),
    ];
  }
}
