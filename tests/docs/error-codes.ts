import { readFileSync } from 'node:fs';
import { format, resolveConfig } from 'prettier';
import ts from 'typescript';

export const page = 'docs/errors.md';

const source = ts.createSourceFile(
  'error-codes.ts',
  readFileSync('src/core/error-codes.ts', 'utf8'),
  ts.ScriptTarget.Latest,
  true,
);

/** Each code with what its comment says. */
export const errorCodes: readonly (readonly [string, string])[] = source.statements
  .filter(ts.isInterfaceDeclaration)
  .flatMap((table) => table.members.filter(ts.isPropertySignature))
  .map((member) => {
    const comment = ts.getJSDocCommentsAndTags(member).find(ts.isJSDoc)?.comment;
    return [(member.name as ts.StringLiteral).text, ts.getTextOfJSDocComment(comment) ?? ''] as const;
  });

/** The page of error codes, made from the table in the code. */
export async function renderErrorCodes(): Promise<string> {
  const entries = errorCodes.map(([code, meaning]) => `## \`${code}\`\n\n${meaning}`);
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
