import { draftPanels, flatSvg, parseBag, picture, type Result, templates } from '../index.ts';

/** What the desk is asked; its answers carry the same number. A worker of its own keeps all this out of the first view's script. */
export type DeskAsk = { readonly id: number } & (
  | { readonly kind: 'templates' }
  | { readonly kind: 'still'; readonly result: Result }
  | { readonly kind: 'flat'; readonly bag: string; readonly option: string; readonly units: 'metric' | 'inch' }
);
export type DeskSay = { readonly id: number } & (
  | { readonly kind: 'templates'; readonly list: readonly { readonly name: string; readonly title: string; readonly text: string }[] }
  | { readonly kind: 'still'; readonly svg: string }
  | { readonly kind: 'flat'; readonly svg: string }
);

/**
 * The still picture without the figures under it and the words at its left: the page's own table and headings say those.
 * What it clips to is its mat; the words take the left fifth of a picture of one option.
 */
function onlyTheMat(svg: string): string {
  const mat = /<clipPath id="mat"><rect x="[^"]*" y="[^"]*" width="([^"]*)" height="([^"]*)"/.exec(svg);
  if (!mat) return svg;
  const width = Number(mat[1]);
  const left = 0.2 * width;
  return svg.replace(
    / width="[^"]*" height="[^"]*" viewBox="[^"]*"/,
    ` width="${width - left}" height="${mat[2]}" viewBox="${left} 0 ${width - left} ${mat[2]}"`,
  );
}

function answer(ask: DeskAsk): DeskSay {
  if (ask.kind === 'templates') return { id: ask.id, kind: 'templates', list: templates().map(({ name, title, text }) => ({ name, title, text })) };
  if (ask.kind === 'still') return { id: ask.id, kind: 'still', svg: onlyTheMat(picture([ask.result])) };
  const bag = parseBag(ask.bag);
  return { id: ask.id, kind: 'flat', svg: flatSvg(bag, draftPanels(bag), { option: ask.option, units: ask.units }) };
}

self.onmessage = (event: MessageEvent<DeskAsk>) => self.postMessage(answer(event.data));
