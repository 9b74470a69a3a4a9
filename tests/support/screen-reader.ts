import type { CDPSession, Page } from 'playwright-core';
import { expect } from 'vitest';

/** What a screen reader is told of one thing on a page. */
export interface Told {
  readonly role: string;
  readonly name: string;
  readonly description: string;
  readonly level: number;
  readonly live: string;
  readonly invalid: boolean;
  readonly focused: boolean;
  readonly node: number;
}

interface AxValue {
  readonly value?: unknown;
}
interface AxNode {
  readonly ignored: boolean;
  readonly role?: AxValue;
  readonly name?: AxValue;
  readonly description?: AxValue;
  readonly properties?: readonly { readonly name: string; readonly value: AxValue }[];
  readonly backendDOMNodeId?: number;
}

const LANDMARKS: ReadonlySet<string> = new Set([
  'banner',
  'main',
  'navigation',
  'contentinfo',
  'region',
  'form',
  'search',
]);

/**
 * A person who knows of a page what the browser's accessibility tree tells, and nothing else: finds things by role and
 * name, goes to them, and presses keys.
 */
export class ScreenReader {
  private readonly page: Page;
  private readonly session: Promise<CDPSession>;

  constructor(page: Page) {
    this.page = page;
    this.session = page.context().newCDPSession(page);
  }

  async all(): Promise<Told[]> {
    const { nodes } = (await (await this.session).send('Accessibility.getFullAXTree')) as unknown as {
      nodes: readonly AxNode[];
    };
    return nodes.flatMap((node) => {
      if (node.ignored || node.backendDOMNodeId === undefined) return [];
      const property = (name: string) => node.properties?.find((one) => one.name === name)?.value.value;
      const text = (value: AxValue | undefined) => (typeof value?.value === 'string' ? value.value : '');
      return [
        {
          role: text(node.role),
          name: text(node.name).trim(),
          description: text(node.description),
          level: Number(property('level') ?? 0),
          live: text({ value: property('live') }),
          invalid: property('invalid') === 'true' || property('invalid') === true,
          focused: property('focused') === true,
          node: node.backendDOMNodeId,
        },
      ];
    });
  }

  /** The first of that role with that name, once there is one. */
  async find(role: string, name: string | RegExp): Promise<Told> {
    let found: Told | undefined;
    const fits = (one: Told) =>
      one.role === role && (typeof name === 'string' ? one.name === name : name.test(one.name));
    await expect
      .poll(async () => (found = (await this.all()).find(fits)) !== undefined, {
        message: `a ${role} named ${String(name)}`,
        interval: 250,
        timeout: 30_000,
      })
      .toBe(true);
    return found!;
  }

  /** Goes to it and presses the key that it answers to. */
  async press(role: string, name: string | RegExp): Promise<void> {
    const { node } = await this.find(role, name);
    await (await this.session).send('DOM.focus', { backendNodeId: node });
    await this.page.keyboard.press(role === 'radio' || role === 'checkbox' ? 'Space' : 'Enter');
  }

  async write(name: string | RegExp, words: string): Promise<void> {
    const { node } = await this.find('textbox', name);
    await (await this.session).send('DOM.focus', { backendNodeId: node });
    await this.page.keyboard.press('ControlOrMeta+A');
    await this.page.keyboard.insertText(words);
  }

  /** Waits until these words stand in a part whose changes and contents are announced. */
  async hears(words: RegExp): Promise<void> {
    await expect
      .poll(() => this.announced(), {
        message: `announced: ${String(words)}`,
        interval: 250,
        timeout: 30_000,
      })
      .toMatch(words);
  }

  /** What stands in live regions, in the order of the page. */
  async announced(): Promise<string> {
    const session = await this.session;
    const live = (await this.all()).filter(({ role }) => role === 'alert' || role === 'status');
    const texts: string[] = [];
    for (const { node } of live) {
      const { object } = await session.send('DOM.resolveNode', { backendNodeId: node });
      const { result } = await session.send('Runtime.callFunctionOn', {
        objectId: object.objectId!,
        functionDeclaration: 'function () { return this.textContent; }',
      });
      texts.push(String(result.value));
    }
    return texts.join('\n');
  }

  async headings(): Promise<Told[]> {
    return (await this.all()).filter(({ role }) => role === 'heading');
  }

  async landmarks(): Promise<string[]> {
    return (await this.all())
      .filter(({ role }) => LANDMARKS.has(role))
      .map(({ role, name }) => (name === '' ? role : `${role} ${name}`));
  }

  /** What can be pressed or filled in and has no name. */
  async nameless(): Promise<string[]> {
    const acts = new Set([
      'link',
      'button',
      'textbox',
      'combobox',
      'checkbox',
      'radio',
      'DisclosureTriangle',
      'img',
      'image',
    ]);
    return (await this.all())
      .filter(({ role, name }) => acts.has(role) && name === '')
      .map(({ role }) => role);
  }
}
