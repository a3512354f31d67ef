/** What the editor knows the two kinds of panels by, over closing and opening of the window. */
export const curvesPanelType = 'sweepbook.curves';
export const comparePanelType = 'sweepbook.comparison';
