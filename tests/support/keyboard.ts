import type { Locator, Page } from 'playwright-core';

/** More stops than any page has: whoever presses this often goes in circles. */
const MOST_STOPS = 600;

interface Stop {
  /** The same element has the same number for as long as the page stands. */
  readonly number: number;
  readonly words: string;
  /** Is it marked as what has the focus, and inside the window? */
  readonly shown: boolean;
}

/** Somebody without a mouse: Tab, Enter, Space, arrows and letters, and nothing else. */
export class KeyboardPerson {
  /** Where the focus was and could not be seen. */
  readonly unseen: string[] = [];
  readonly #page: Page;

  constructor(page: Page) {
    this.#page = page;
  }

  /** Goes on to an element by Tab alone. @throws where Tab does not lead there, or goes round in a circle. */
  async tabTo(target: Locator): Promise<void> {
    const wanted = await target.elementHandle({ timeout: 10_000 });
    let before = -1;
    for (let presses = 0; presses < MOST_STOPS; presses += 1) {
      await this.#page.keyboard.press('Tab');
      const stop = await this.#stop();
      if (stop.number === before) throw new Error(`Tab does not leave ${stop.words}`);
      before = stop.number;
      if (!stop.shown) this.unseen.push(`${new URL(this.#page.url()).pathname}: ${stop.words}`);
      if (await wanted.evaluate((element) => element === document.activeElement)) return;
    }
    throw new Error(`Tab never came to ${String(target)} on ${this.#page.url()}`);
  }

  /** Follows a link or presses a button, and waits for the page that it leads to. */
  async press(target: Locator): Promise<void> {
    await this.tabTo(target);
    const [response] = await Promise.all([
      this.#page.waitForResponse(
        (one) => one.request().isNavigationRequest() && ![302, 303].includes(one.status()),
      ),
      this.#page.keyboard.press('Enter'),
    ]);
    await response.finished();
    await this.#page.waitForLoadState('load');
  }

  async type(target: Locator, words: string): Promise<void> {
    await this.tabTo(target);
    await this.#page.keyboard.press('ControlOrMeta+A');
    await this.#page.keyboard.type(words);
  }

  /** Chooses among radio buttons: Tab leads to the group, arrows lead through it. */
  async choose(group: Locator, value: string): Promise<void> {
    const first = group.locator('input[type=radio]').first();
    await this.tabTo(first);
    await this.#page.keyboard.press('Space');
    const count = await group.locator('input[type=radio]').count();
    for (let presses = 0; presses < count; presses += 1) {
      const now = await this.#page.evaluate(() => (document.activeElement as HTMLInputElement).value);
      if (now === value) return;
      await this.#page.keyboard.press('ArrowDown');
    }
    throw new Error(`no arrow led to ${value}`);
  }

  /** Skips to the main part by the first stop of the page, and says where the focus then is. */
  async skip(): Promise<string> {
    await this.#page.keyboard.press('Tab');
    const stop = await this.#stop();
    if (!stop.shown) this.unseen.push(`${this.#page.url()}: the first stop`);
    await this.#page.keyboard.press('Enter');
    return this.#page.evaluate(() => document.activeElement?.id ?? '');
  }

  /** Every stop of the page, once round. */
  async walkRound(): Promise<Stop[]> {
    const stops: Stop[] = [];
    for (let presses = 0; presses < MOST_STOPS; presses += 1) {
      await this.#page.keyboard.press('Tab');
      const stop = await this.#stop();
      if (stops.some((one) => one.number === stop.number)) return stops;
      stops.push(stop);
    }
    throw new Error(`Tab never comes back to where it began on ${this.#page.url()}`);
  }

  #stop(): Promise<Stop> {
    return this.#page.evaluate(() => {
      const store = window as unknown as { numbers?: WeakMap<Element, number>; last?: number };
      const element = document.activeElement ?? document.body;
      store.numbers ??= new WeakMap();
      store.last ??= 0;
      let number = store.numbers.get(element);
      if (number === undefined) {
        store.last += 1;
        number = store.last;
        store.numbers.set(element, number);
      }
      const style = getComputedStyle(element);
      const box = element.getBoundingClientRect();
      const inWindow = box.bottom > 0 && box.top < window.innerHeight && box.width > 1 && box.height > 1;
      const outlined = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2;
      const page = element === document.body || element === document.documentElement;
      return {
        number,
        words: element.outerHTML.slice(0, 120),
        shown: page || (inWindow && outlined),
      };
    });
  }
}
