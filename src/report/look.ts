/**
 * Colours and sizes of every picture. Dark ink for what was recorded, sage for
 * what was integrated, clay for what was assumed under it, plum for what was
 * set apart. The four differ in lightness (about 15, 75 and 88, 42, 58 of 100)
 * as well as in hue, and each also has its own line or pattern, so that a grey
 * print and any kind of colour vision keep them apart.
 */
export const paper = '#fff';
export const ink = '#1d282d';
export const muted = '#56636a';
export const hairline = '#dfe4e3';
export const areaLight = '#d6e7e2';
export const areaDark = '#a3c8bf';
export const areaHatch = '#5d9186';
export const baselineColour = '#b0501a';
export const apart = '#7d7288';
/** [px] Font size of everything but the title. */
export const textSize = 15;
