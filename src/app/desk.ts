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

function answer(ask: DeskAsk): DeskSay {
  if (ask.kind === 'templates') return { id: ask.id, kind: 'templates', list: templates().map(({ name, title, text }) => ({ name, title, text })) };
  if (ask.kind === 'still') return { id: ask.id, kind: 'still', svg: picture([ask.result]) };
  const bag = parseBag(ask.bag);
  return { id: ask.id, kind: 'flat', svg: flatSvg(bag, draftPanels(bag), { option: ask.option, units: ask.units }) };
}

self.onmessage = (event: MessageEvent<DeskAsk>) => self.postMessage(answer(event.data));
