/** The editor's window as a user's hands and eyes find it. */
import type { FrameLocator, Locator, Page } from 'playwright-core';
import { afterEach } from 'vitest';

/** Nothing but this text: `harrow-fen`, not `harrow-fen-2027`. */
const whole = (text: string): RegExp =>
  new RegExp(`^\\s*${text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}\\s*$`);

const appears = (locator: Locator, timeout: number): Promise<boolean> =>
  locator.waitFor({ timeout }).then(
    () => true,
    () => false,
  );

export class Workbench {
  readonly page: Page;
  /** The content of the curves panel. */
  readonly panel: FrameLocator;

  constructor(page: Page) {
    this.page = page;
    this.panel = page.frameLocator('iframe.webview.ready').frameLocator('#active-frame');
  }

  async open(url: string): Promise<void> {
    await this.page.goto(url);
    await this.page.locator('.monaco-workbench').waitFor({ timeout: 60_000 });
    await this.page.locator('.explorer-folders-view .monaco-list-row').first().waitFor({ timeout: 60_000 });
  }

  /** By its path in the folder: names alone are not unique. Into the column of the texts: beside the panel it would hide it. */
  async openFile(name: string): Promise<void> {
    const texts = this.page.locator('.editor-group-container').first().locator('.tab.active');
    const opened = this.page.locator(`.editor-group-container.active .monaco-editor[data-uri$="/${name}"]`);
    // The list goes on changing while one of its rows is clicked, so that another file may come.
    for (let time = 0; time < 6; time++) {
      if ((await texts.count()) > 0) await texts.click();
      await this.#pickFile(name);
      if (await appears(opened, 4_000)) return;
    }
    throw new Error(`${name} did not open.`);
  }

  async #pickFile(name: string): Promise<void> {
    const [file, folder] = [name.split('/').at(-1)!, name.split('/').slice(0, -1).join('/')];
    await this.page.keyboard.press('Control+P');
    await this.page.locator('.quick-input-box input').first().fill(name);
    const found = this.page.locator('.quick-input-list .monaco-list-row', { hasText: file });
    const inFolder = this.page.locator('.label-description', { hasText: whole(folder) });
    await (folder === '' ? found : found.filter({ has: inFolder })).first().click();
    await this.page.locator('.quick-input-widget').waitFor({ state: 'hidden' });
  }

  /** Back from the panel or a view to the text. */
  async focusEditor(): Promise<void> {
    await this.page.locator('.editor-group-container').first().locator('.tab.active').click();
    await this.page.locator('.editor-group-container.active .monaco-editor.focused').waitFor();
  }

  /** By the list of commands; once more where something that took the focus closed it. */
  async run(command: string): Promise<void> {
    const input = this.page.locator('.quick-input-box input').first();
    const found = this.page.locator('.quick-input-list .monaco-list-row', { hasText: command }).first();
    const asked = async (): Promise<void> => {
      await this.page.keyboard.press('F1');
      await input.fill(`>${command}`, { timeout: 5_000 });
      await found.click({ timeout: 20_000 });
    };
    await asked().catch(asked);
  }

  /** Line (from 1) where a text stands in the open file, found by the editor itself. */
  async lineOf(text: string): Promise<number> {
    await this.page.keyboard.press('Control+F');
    await this.page.locator('.find-widget.visible textarea').first().fill(text);
    await this.page.keyboard.press('Enter');
    await this.page.locator('.find-widget .matchesCount', { hasText: /^1 of/ }).waitFor();
    await this.page.keyboard.press('Escape');
    return Number(/Ln (\d+)/.exec((await this.cursor.textContent()) ?? '')![1]);
  }

  async goTo(line: number, column = 1): Promise<void> {
    await this.page.keyboard.press('Control+G');
    const input = this.page.locator('.quick-input-box input').first();
    await input.waitFor();
    await input.fill(`:${line}:${column}`);
    await this.page.keyboard.press('Enter');
    await this.page.locator('.quick-input-widget').waitFor({ state: 'hidden' });
  }

  async setTheme(name: string): Promise<void> {
    await this.run('Preferences: Color Theme');
    const input = this.page.locator('.quick-input-box input').first();
    await input.fill(name);
    await this.page.locator('.quick-input-list .monaco-list-row', { hasText: name }).first().click();
    await this.page.waitForTimeout(1_000);
  }

  /** Opens the list of mends at the cursor until one of that text is offered: asked too early the list is empty. */
  async askForMend(text: string): Promise<void> {
    const offered = this.page.locator('.action-widget .monaco-list-row', { hasText: text }).first();
    for (let time = 0; time < 10; time++) {
      await this.page.keyboard.press('Control+.');
      if (await appears(offered, 5_000)) return;
      await this.page.keyboard.press('Escape');
    }
    throw new Error(`No mend "${text}" was offered.`);
  }

  /** Closes menus, lists and questions that a failed test left open: its second try would find them in its way. */
  async letGo(): Promise<void> {
    for (let time = 0; time < 3; time++) await this.page.keyboard.press('Escape');
  }

  /** From the menu of the right button; a click that comes as soon as the menu is there is let go by, and made again. */
  async chooseFromMenu(of: Locator, text: string): Promise<void> {
    const item = this.page.locator('.monaco-menu .action-item', { hasText: text }).first();
    for (let time = 0; time < 6; time++) {
      await of.click({ button: 'right' });
      await item.waitFor();
      await item.hover();
      await item.click();
      const gone = await item.waitFor({ state: 'detached', timeout: 3_000 }).then(
        () => true,
        () => false,
      );
      if (gone) return;
      await this.page.keyboard.press('Escape');
    }
    throw new Error(`"${text}" could not be chosen.`);
  }

  /** Turns the panel to one of its views. */
  async view(name: 'Sweep' | 'String' | 'Campaign'): Promise<void> {
    const button = this.panel.locator('.views').getByRole('button', { name });
    await button.click();
    await this.panel.locator('.views [aria-current=page]', { hasText: name }).waitFor();
  }

  /** `Ln 48, Col 1` of the status bar. */
  get cursor(): Locator {
    return this.page.locator('[id="status.editor.selection"]');
  }

  /** Number of the line that the cursor of the first column's editor is in, though the focus be elsewhere. */
  get activeLine(): Locator {
    return this.page.locator('.editor-group-container').first().locator('.active-line-number');
  }

  get problems(): Locator {
    return this.page.locator('.markers-panel .monaco-list-row');
  }

  get hover(): Locator {
    return this.page.locator('.monaco-resizable-hover .monaco-hover, .monaco-hover:not(.hidden)');
  }
}

/** To be called once in a file of tests. */
export function letGoAfterFailures(bench: () => Workbench): void {
  afterEach(async ({ task }) => {
    if (task.result?.state === 'fail') await bench().letGo();
  });
}
