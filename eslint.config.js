import eslint from '@eslint/js';
import { defineConfig } from 'eslint/config';
import tseslint from 'typescript-eslint';

/** What would make a result depend on the moment, the place or luck. */
const impure = [
  { object: 'Math', property: 'random', message: 'Results must repeat: take a seeded generator from the caller.' },
  { object: 'Date', property: 'now', message: 'Results must repeat: the caller passes times in.' },
  { object: 'performance', property: 'now', message: 'Results must repeat: the caller passes times in.' },
  { property: 'toLocaleString', message: 'Results must not depend on the locale.' },
  { property: 'localeCompare', message: 'Results must not depend on the locale: compare with < and >.' },
];

/** Functions that engines may round differently in the last bit. */
const inexact =
  'acos acosh asin asinh atan atan2 atanh cbrt cos cosh exp expm1 hypot log log10 log1p log2 pow sin sinh tan tanh'
    .split(' ')
    .map((property) => ({
      object: 'Math',
      property,
      message: 'Deciding and measuring use + - * / and Math.sqrt only, so that every engine gives the same bits.',
    }));

const syntax = [
  { selector: 'ExportDefaultDeclaration', message: 'Export by name.' },
  { selector: 'ExportAllDeclaration', message: 'Name what is exported.' },
  { selector: "NewExpression[callee.name='Date'][arguments.length=0]", message: 'The caller passes times in.' },
  { selector: "MemberExpression[object.name='Intl']", message: 'Results must not depend on the locale.' },
];

const deciding = ['core', 'trace', 'signal', 'baseline', 'peaks', 'integration', 'measures', 'analysis'];

export default defineConfig(
  { ignores: ['dist/', 'out/', 'docs/site/', 'coverage/'] },
  eslint.configs.recommended,
  {
    files: ['**/*.ts'],
    extends: [tseslint.configs.strictTypeChecked, tseslint.configs.stylisticTypeChecked],
    languageOptions: {
      parserOptions: { project: ['tsconfig.json', 'tests/tsconfig.json'], tsconfigRootDir: import.meta.dirname },
    },
    rules: {
      // Counted loops over checked arrays read `values[i]!`.
      '@typescript-eslint/no-non-null-assertion': 'off',
      '@typescript-eslint/prefer-for-of': 'off',
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true, allowBoolean: true }],
      '@typescript-eslint/consistent-type-imports': ['error', { fixStyle: 'inline-type-imports' }],
      '@typescript-eslint/no-confusing-void-expression': ['error', { ignoreArrowShorthand: true }],
      // Callers without types break types: public functions check what the types rule out.
      '@typescript-eslint/no-unnecessary-condition': 'off',
      '@typescript-eslint/switch-exhaustiveness-check': 'error',
      // By code points is what a spread of text is for.
      '@typescript-eslint/no-misused-spread': 'off',
      // Published coefficients keep their published digits.
      'no-loss-of-precision': 'off',
      eqeqeq: 'error',
      'no-eval': 'error',
      'no-new-func': 'error',
      'max-lines': ['error', 400],
    },
  },
  {
    files: ['src/**/*.ts'],
    rules: {
      'no-console': 'error',
      'no-restricted-properties': ['error', ...impure],
      'no-restricted-syntax': ['error', ...syntax],
      'no-restricted-imports': [
        'error',
        { patterns: [{ regex: '^node:', message: 'Only node/ and cli/ touch Node.' }] },
      ],
      'no-restricted-globals': ['error', 'process', 'Buffer', 'require', '__dirname', 'window', 'document'],
      'max-lines-per-function': ['error', { max: 80, skipBlankLines: true, skipComments: true }],
      complexity: ['error', 20],
    },
  },
  {
    files: deciding.map((folder) => `src/${folder}/**/*.ts`),
    rules: {
      'no-restricted-properties': ['error', ...impure, ...inexact],
      'no-restricted-syntax': [
        'error',
        ...syntax,
        {
          // Powers of two are exact everywhere.
          selector: ':matches(BinaryExpression[left.value!=2], AssignmentExpression)[operator=/^\\*\\*/]',
          message: 'Multiply: engines may round powers differently in the last bit.',
        },
      ],
    },
  },
  {
    files: ['src/node/**/*.ts', 'src/cli/**/*.ts'],
    rules: {
      'no-console': 'off',
      'no-restricted-imports': 'off',
      'no-restricted-globals': 'off',
      'no-restricted-properties': 'off',
      'no-restricted-syntax': ['error', syntax[1]],
    },
  },
  {
    files: ['tests/**/*.ts', 'bench/**/*.ts', 'examples/**/*.ts', '*.ts'],
    rules: {
      '@typescript-eslint/no-unsafe-assignment': 'off', // expect.objectContaining is `any`
      '@typescript-eslint/no-unsafe-argument': 'off',
      '@typescript-eslint/no-unsafe-member-access': 'off', // parsed JSON of reference tables
      '@typescript-eslint/require-await': 'off',
      'max-lines': 'off',
    },
  },
  {
    files: ['**/*.js', '**/*.mjs'],
    languageOptions: { globals: { process: 'readonly', console: 'readonly', URL: 'readonly' } },
  },
);
