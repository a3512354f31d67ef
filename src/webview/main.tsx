/** The page of the curves panel and of the one that compares: receives models, patches the page in place, tells the editor what was chosen. */
import { render } from 'preact';
import { readToPanel, type ToPanel } from '../messages/previewMessages.js';
import { keep, keptState, tellEditor } from './editorHost.js';
import { keepScroll, restoreScroll } from './scroll.js';
import { onThemeChange, readChartTheme } from './themeConfig.js';
import { Panel, type PanelView } from './parts/panel.js';

let panel: PanelView = {
  view: keptState().view ?? 'sweep',
  held: keptState().held ?? false,
  theme: readChartTheme(),
};
const element = document.getElementById('panel')!;

function update(change: Partial<PanelView>): void {
  panel = { ...panel, ...change };
  render(<Panel {...panel} />, element);
}

function receive(message: ToPanel): void {
  switch (message.type) {
    case 'show':
      show(message);
      restoreScroll();
      break;
    case 'difference':
      update({ difference: message.difference, comparing: false, nothing: undefined });
      keepChosen(message.difference.chosen);
      restoreScroll();
      break;
    case 'comparing': {
      const { file, revision, commit } = message;
      keep({ file, revision, commit });
      update({ comparing: true, nothing: undefined });
      break;
    }
    case 'held':
      update({ held: message.held });
      keep({ held: message.held });
      break;
    case 'nothing':
      update({ nothing: message.text });
  }
}

function keepChosen(sweep: { readonly address: string; readonly time: string } | undefined): void {
  if (sweep) keep({ address: sweep.address, time: sweep.time });
}

function show(message: Extract<ToPanel, { type: 'show' }>): void {
  const { view, head } = message;
  // Another view begins at its top; the same one stays where it is being read.
  if (panel.head && view !== panel.view) window.scrollTo(0, 0);
  keep({ view });
  const nothing = undefined;
  switch (view) {
    case 'sweep':
      if (message.sweep) keep({ file: message.sweep.place.file });
      keepChosen(message.sweep);
      return update({ view, head, nothing, sweep: message.sweep });
    case 'string':
      return update({ view, head, nothing, string: message.string });
    case 'campaign':
      return update({ view, head, nothing, campaign: message.campaign });
  }
}

window.addEventListener('message', (event: MessageEvent<unknown>) => {
  const message = readToPanel(event.data);
  if (message) receive(message);
});
onThemeChange(() => {
  const theme = readChartTheme();
  if (JSON.stringify(theme) !== JSON.stringify(panel.theme)) update({ theme });
});
keepScroll();
update({});
tellEditor({ type: 'ready' });
