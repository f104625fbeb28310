/** Small helpers over the DOM: the page is plain elements, built once and updated in place. */
type Attributes = Readonly<Record<string, string | number | boolean | null | undefined | ((event: Event) => void)>>;
type Child = Node | string | null | undefined | false;

/** Sign between whole and parts as the reader's own language writes it. */
const DECIMAL = new Intl.NumberFormat().format(1.5).charAt(1);

/** Figures with a unit as the reader writes decimals; names, versions and what is typed are left alone. */
const shown = (child: Node | string): Node | string =>
  typeof child !== 'string' || DECIMAL === '.'
    ? child
    : child.replace(/(\d)\.(\d+)(?=\s?(?:[kcm]?m|in|k?g|lb|oz|[µmk]?N|s|[°%×])(?![\p{L}\d]))/gu, `$1${DECIMAL}$2`);

function dress(element: Element, attributes: Attributes, children: readonly Child[]): void {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (typeof value === 'function') element.addEventListener(name.replace(/^on/, ''), value);
    else element.setAttribute(name, value === true ? '' : String(value));
  }
  for (const child of children) if (child !== null && child !== undefined && child !== false) element.append(shown(child));
}

export function h<K extends keyof HTMLElementTagNameMap>(tag: K, attributes: Attributes = {}, ...children: Child[]): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  dress(element, attributes, children);
  return element;
}

export function svg<K extends keyof SVGElementTagNameMap>(tag: K, attributes: Attributes = {}, ...children: Child[]): SVGElementTagNameMap[K] {
  const element = document.createElementNS('http://www.w3.org/2000/svg', tag);
  dress(element, attributes, children);
  return element;
}

/** Replaces an element's content only when it differs: untouched cells keep their focus and are not read out again. */
export function refill(element: Element, ...children: Child[]): void {
  const next = document.createElement('template').content;
  for (const child of children) if (child !== null && child !== undefined && child !== false) next.append(shown(child));
  const same = element.childNodes.length === next.childNodes.length && [...next.childNodes].every((node, i) => node.isEqualNode(element.childNodes[i]));
  if (!same) element.replaceChildren(...next.childNodes);
}

let counter = 0;
export const uniqueId = (stem: string): string => `${stem}-${++counter}`;
