import type { Page } from 'playwright-core';
import { afterAll, expect, test } from 'vitest';
import { stopBrowser } from './harness.ts';
import { axeFindings, SOON, withPage } from './tools.ts';

afterAll(stopBrowser);

interface Drawn {
  readonly name: string;
  readonly panels: Record<string, Record<string, unknown>>;
  readonly seams?: Record<string, unknown>;
  readonly straps?: Record<string, Record<string, unknown>>;
}
const bag = (page: Page): Promise<Drawn> => page.evaluate(() => JSON.parse(localStorage.getItem('slumpline.bag') ?? '{"panels":{}}'));
const seams = async (page: Page): Promise<number> => Object.keys((await bag(page)).seams ?? {}).length;
const troubles = (page: Page): Promise<string[]> => page.locator('.trouble p').allTextContents();

/** Counts what a maker does: one press of the pointer, one value entered, one key that decides something. */
class Hand {
  actions = 0;
  constructor(
    readonly page: Page,
    private readonly keys: boolean,
  ) {}

  /** A button, by pointer or by focus and Enter. */
  async press(name: string): Promise<void> {
    this.actions++;
    const button = this.page.locator('.cutting').getByRole('button', { name, exact: true });
    if (this.keys) {
      await button.focus();
      await this.page.keyboard.press('Enter');
    } else await button.click();
  }

  /** A value typed over what stands in a field. */
  async type(label: string, value: string): Promise<void> {
    this.actions++;
    const field = this.page.locator('.cutting').getByRole('textbox', { name: label, exact: true });
    if (!this.keys) {
      await field.fill(value);
      return;
    }
    await field.focus();
    await this.page.keyboard.press('Control+a');
    await this.page.keyboard.type(value);
  }

  async turn(mode: string): Promise<void> {
    this.actions++;
    const choice = this.page.getByRole('radio', { name: mode, exact: true });
    if (this.keys) {
      await choice.focus();
      await this.page.keyboard.press('Space');
    } else await choice.check();
  }

  /** An edge on the sheet. */
  async edge(ref: string): Promise<void> {
    this.actions++;
    if (this.keys) {
      await this.page.locator(`[data-hold="edge ${ref}"]`).focus();
      await this.page.keyboard.press('Enter');
      return;
    }
    // A maker presses what she sees: once the drawing is still, and where nothing lies over the edge.
    await this.page.waitForSelector('.edges.sewing');
    const at = async (): Promise<readonly [number, number] | null> =>
      this.page.evaluate((edge) => {
        const line = document.querySelector<SVGPathElement>(`[data-edge="${edge}"] .edge-reach`);
        line?.scrollIntoView({ block: 'nearest' });
        const m = line?.getScreenCTM();
        if (!line || !m) return null;
        const p = line.getPointAtLength(0.3 * line.getTotalLength()).matrixTransform(m);
        return document.elementFromPoint(p.x, p.y) === line ? [p.x, p.y] : null;
      }, ref);
    await expect.poll(at, SOON).not.toBeNull();
    await this.page.mouse.click(...(await at())!);
  }
}

const SEAMS = [
  ['front.bottom', 'base.bottom'],
  ['back.bottom', 'base.top'],
  ['left.bottom', 'base.right'],
  ['right.bottom', 'base.left'],
  ['front.right', 'right.left'],
  ['right.right', 'back.left'],
  ['back.right', 'left.left'],
  ['left.right', 'front.left'],
] as const;

/** Five panels drawn and sewn from an empty table, as a maker would. */
async function drawBox(hand: Hand): Promise<void> {
  const { page } = hand;
  await hand.press('A new bag');
  await hand.type('Bag is called', 'Ferry bag');
  await hand.type('Width', '280 mm');
  await hand.type('Height', '220 mm');
  await hand.press('Put it on the table');
  await expect.poll(() => bag(page).then((b) => b.name), SOON).toBe('Ferry bag');
  await hand.press('Copy');
  await page.waitForSelector('[data-panel="back"]');
  await hand.press('Another panel');
  await hand.type('Width', '90 mm');
  await hand.press('Put it on the table');
  await page.waitForSelector('[data-panel="left"]');
  await hand.press('Copy');
  await page.waitForSelector('[data-panel="right"]');
  await hand.press('Another panel');
  await hand.press('Put it on the table');
  await page.waitForSelector('[data-panel="base"]');
  await hand.turn('Sew edges');
  for (const [i, [a, b]] of SEAMS.entries()) {
    await hand.edge(a);
    await expect.poll(() => page.locator('.edge-pick.fit-picked').count(), SOON).toBe(1);
    await hand.edge(b);
    await expect.poll(() => seams(page), SOON).toBe(i + 1);
  }
}

test('a five-panel bag is drawn and sewn from nothing in 29 actions of 60 by pointer, nothing is wrong with it, handles take 2 of 6 and a pocket 3 of 8', async () => {
  await withPage({ path: '#cut', quick: true }, async ({ page, shot }) => {
    await page.waitForSelector('[data-hold="front/edge/right"]');
    await page.getByRole('radio', { name: 'mm', exact: true }).check();
    const hand = new Hand(page, false);
    await drawBox(hand);
    console.log(`five panels by pointer: ${hand.actions} actions`);
    expect(hand.actions).toBeLessThanOrEqual(60);
    expect(await troubles(page)).toEqual([]);
    await expect.poll(() => page.locator('.page').getAttribute('data-sewn').then(Number), SOON).toBeGreaterThan(0);
    await shot('draw-five-1440');
    const handles = new Hand(page, false);
    await handles.turn('Straps');
    await handles.press('Sew it on');
    await expect.poll(() => bag(page).then((b) => b.straps?.handle), SOON).toMatchObject({ to: 'mirrored', 'also on': ['back'] });
    console.log(`handles by pointer: ${handles.actions} actions`);
    expect(handles.actions).toBeLessThanOrEqual(6);
    await shot('draw-handles-1440');
    const pocket = new Hand(page, false);
    await pocket.turn('Shape panels');
    await page.locator('[data-hold="panel front"]').click({ position: { x: 60, y: 60 } });
    pocket.actions++;
    await pocket.press('Pocket across');
    await expect.poll(() => seams(page), SOON).toBe(11);
    console.log(`pocket by pointer: ${pocket.actions} actions`);
    expect(pocket.actions).toBeLessThanOrEqual(8);
    expect(await troubles(page)).toEqual([]);
    await shot('draw-pocket-1440');
    expect(await axeFindings(page)).toEqual([]);
  });
});

test('the same bag by keys alone in 29 deciding keys and values (the way there is not counted); arrow keys go from edge to edge; a strap’s two places are pressed', async () => {
  await withPage({ path: '#cut', quick: true }, async ({ page, shot }) => {
    await page.waitForSelector('[data-hold="front/edge/right"]');
    await page.getByRole('radio', { name: 'mm', exact: true }).check();
    const hand = new Hand(page, true);
    await drawBox(hand);
    console.log(`five panels by keyboard: ${hand.actions} actions`);
    expect(hand.actions).toBeLessThanOrEqual(60);
    expect(await troubles(page)).toEqual([]);
    // The arrow keys go on from edge to edge; the spoken line says what was sewn.
    await page.locator('[data-hold="edge front.bottom"]').focus();
    await page.keyboard.press('ArrowRight');
    expect(await page.evaluate(() => (document.activeElement as HTMLElement).dataset.hold)).toBe('edge front.right');
    expect(await page.locator('[role=status]').textContent()).toContain('Seam H: left.right to front.left, the same length.');
    await page.getByRole('radio', { name: 'Straps' }).check();
    const box = (await page.locator('[data-panel="front"] .cloth').boundingBox())!;
    await page.mouse.click(box.x + 0.3 * box.width, box.y + 0.2 * box.height);
    await page.waitForSelector('.strap-spot');
    await page.mouse.click(box.x + 0.7 * box.width, box.y + 0.2 * box.height);
    await expect.poll(() => bag(page).then((b) => b.straps?.handle), SOON).toMatchObject({ to: 'mirrored' });
    await shot('draw-strap-pressed');
  });
});
