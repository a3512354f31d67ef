/** How the curves panel is asked for, by those who do not know it. */
import type { ViewName } from '../../messages/previewMessages.js';

/** Not in the palette: what a lens above a block calls. */
export const showInPanel = 'sweepbook.showInPanel';

/** What to show: of the campaign that this file belongs to. */
export interface PanelTarget {
  readonly file: string;
  readonly view: ViewName;
  readonly string?: string;
}
