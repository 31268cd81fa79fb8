// what is likely to be a mistake in the page's modules and their tests
import js from '@eslint/js';

const browser = [
  'Blob',
  'Event',
  'NodeFilter',
  'TextDecoder',
  'URL',
  'URLSearchParams',
  'WebAssembly',
  'addEventListener',
  'atob',
  'cancelAnimationFrame',
  'clearTimeout',
  'document',
  'getComputedStyle',
  'history',
  'innerHeight',
  'innerWidth',
  'location',
  'matchMedia',
  'navigator',
  'performance',
  'requestAnimationFrame',
  'scrollTo',
  'setTimeout',
  'window',
];
const node = ['console', 'process'];

export default [
  js.configs.recommended,
  {
    languageOptions: { globals: Object.fromEntries([...browser, ...node].map((name) => [name, 'readonly'])) },
    rules: { eqeqeq: 'error', 'no-shadow': 'error', 'no-var': 'error', 'prefer-const': 'error' },
  },
];
