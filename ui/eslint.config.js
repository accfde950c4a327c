import js from '@eslint/js';
import svelte from 'eslint-plugin-svelte';
import globals from 'globals';
import ts from 'typescript-eslint';
import svelteConfig from './svelte.config.js';

export default ts.config(
  { ignores: ['dist/', 'node_modules/', 'shots/', 'src/api/schema.gen.ts'] },
  js.configs.recommended,
  ...ts.configs.strict,
  ...svelte.configs.recommended,
  { languageOptions: { globals: { ...globals.browser, ...globals.node } } },
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: { parserOptions: { parser: ts.parser, svelteConfig } },
    rules: {
      // A date that is made, written down and let go needs no watching.
      'svelte/prefer-svelte-reactivity': 'off',
      // Paths are made by one function of the shell; there is no router library to resolve them.
      'svelte/no-navigation-without-resolve': 'off',
    },
  },
);
