import { format, resolveConfig } from 'prettier';
import { errorCodes } from '../../src/core/index.js';

export const page = 'docs/errors.md';

/** The page of error codes, made from the table in the code. */
export async function renderErrorCodes(): Promise<string> {
  const entries = Object.entries(errorCodes).map(([code, meaning]) => `## \`${code}\`\n\n${meaning}`);
  const text = `# Errors

Every error thrown on purpose is a \`PeakwrightError\`. Its \`message\` says what is wrong, where, and what to do, and may
change in any version. Its \`code\` is one of those below and its \`details\` hold the facts (file, row, field, value, what was
expected); these two are for programs and change only in a major version. Anything else that is thrown is a fault of ours.
Imperfect data is no error: it gives warnings in the result.

This page is made by \`npm run docs:errors\` from the table in the code.

${entries.join('\n\n')}
`;
  return format(text, { ...(await resolveConfig(page)), parser: 'markdown' });
}
