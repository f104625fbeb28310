import { download } from '../bench/download.ts';
import { h } from '../page/dom.ts';
import { button } from './form-parts.ts';
import { type PatternForm, patternFile } from './pattern-file.ts';

const words = {
  group: 'The pattern to cut from',
  as: 'Paper',
  print: 'Print the pattern',
  hint: 'Full size, with seam allowances, for the option being edited',
  making: 'Drawing the pattern.',
  saved: (name: string, pages: number): string =>
    `${name} is in your downloads${pages > 1 ? `, ${pages} pages` : ''}. Print it at 100 % and measure the two squares before you cut.`,
  listed: (name: string): string => `${name} is in your downloads.`,
  look: (notes: readonly string[]): string => (notes.length > 0 ? ` Look at: ${notes.join('; ')}.` : ''),
  refused: (why: string): string => `No pattern: ${why}`,
  forms: {
    a4: 'A4 pages',
    letter: 'letter pages',
    sheet: 'one large sheet',
    svg: 'one sheet, SVG',
    dxf: 'DXF for a cutter',
    list: 'cutting list',
    'cards-a4': 'notch and strap cards, A4',
    'cards-letter': 'notch and strap cards, letter',
  } satisfies Record<PatternForm, string>,
};

/** Paper and button of "Print the pattern". */
export class PatternPrint {
  private readonly form = h(
    'select',
    { class: 'plain', 'aria-label': words.as, 'data-hold': 'print form' },
    ...Object.entries(words.forms).map(([value, name]) => h('option', { value }, name)),
  );
  readonly element = h(
    'span',
    { role: 'group', 'aria-label': words.group, class: 'pattern-print' },
    this.form,
    button(words.print, 'print pattern', () => void this.print(), { title: words.hint }),
  );

  constructor(private readonly wishes: { bag(): string; option(): string; tell(line: string): void }) {}

  private async print(): Promise<void> {
    const form = this.form.value as PatternForm;
    this.wishes.tell(words.making);
    const file = await patternFile(this.wishes.bag(), this.wishes.option(), form);
    if (!file.ok) {
      this.wishes.tell(words.refused(file.why));
      return;
    }
    const name = download(file.stem, file.ending, new Blob([file.data as BlobPart], { type: file.type }));
    this.wishes.tell((form === 'list' ? words.listed(name) : words.saved(name, file.pages)) + words.look(file.notes));
  }
}
