/**
 * Colours and sizes of every picture. Dark ink for what was recorded, sage for
 * what was integrated, clay for what was assumed under it, plum for what was
 * set apart. The four differ in lightness (about 15, 75 and 88, 42, 58 of 100)
 * as well as in hue, and each also has its own line or pattern, so that a grey
 * print and any kind of colour vision keep them apart.
 */
export const look = {
  paper: '#ffffff',
  ink: '#1d282d',
  muted: '#56636a',
  hairline: '#dfe4e3',
  areaLight: '#d6e7e2',
  areaDark: '#a3c8bf',
  areaHatch: '#5d9186',
  baseline: '#b0501a',
  apart: '#7d7288',
  fontFamily: 'Helvetica, Arial, sans-serif',
  titleSize: 21,
  textSize: 15,
  labelSize: 15,
} as const;
