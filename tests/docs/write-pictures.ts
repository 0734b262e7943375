import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { drawExtract, picture } from './extract-picture.js';
import { drawSkims, skimsPicture } from './skims-picture.js';

mkdirSync(path.dirname(picture), { recursive: true });
writeFileSync(picture, drawExtract());
writeFileSync(skimsPicture, drawSkims());
