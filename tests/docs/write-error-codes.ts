import { writeFileSync } from 'node:fs';
import { page, renderErrorCodes } from './error-codes.js';

writeFileSync(page, await renderErrorCodes());
