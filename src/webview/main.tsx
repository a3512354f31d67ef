/** The page of the curves panel: receives models, patches the page in place, tells the editor what was chosen. */
import { render } from 'preact';
import { readToPanel, type ToPanel } from '../messages/previewMessages.js';
import { keep, keptState, tellEditor } from './editorHost.js';
import { keepScroll, restoreScroll } from './scroll.js';
import { onThemeChange, readChartTheme } from './themeConfig.js';
import { Panel, type PanelView } from './parts/panel.js';

let view: PanelView = { held: keptState().held ?? false, theme: readChartTheme() };
const element = document.getElementById('panel')!;

function update(change: Partial<PanelView>): void {
  view = { ...view, ...change };
  render(<Panel {...view} />, element);
}

function receive(message: ToPanel): void {
  switch (message.type) {
    case 'campaign':
      update({ campaign: message.campaign, steps: message.steps, nothing: undefined });
      break;
    case 'sweep':
      update({ sweep: message.sweep, nothing: undefined });
      if (message.sweep) {
        const { place, address, time } = message.sweep;
        keep({ file: place.file, address, time });
      }
      restoreScroll();
      break;
    case 'held':
      update({ held: message.held });
      keep({ held: message.held });
      break;
    case 'nothing':
      update({ nothing: message.text });
  }
}

window.addEventListener('message', (event: MessageEvent<unknown>) => {
  const message = readToPanel(event.data);
  if (message) receive(message);
});
onThemeChange(() => {
  const theme = readChartTheme();
  if (JSON.stringify(theme) !== JSON.stringify(view.theme)) update({ theme });
});
keepScroll();
update({});
tellEditor({ type: 'ready' });
