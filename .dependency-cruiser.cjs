/** What stands below the impure edge; the terminal stands on the same. */
const BELOW_RUNTIME = [
  'base',
  'protocol',
  'calc',
  'temporal',
  'engine',
  'plan',
  'outcomes',
  'drill',
  'storage',
  'words',
  'export',
  'sync',
];

/**
 * Which part may import which. Data walks one way: each layer knows only the ones listed for it.
 * The suite tests/toolchain/import-rules.test.ts plants a violation of every rule and sees it found.
 */
const LAYERS = {
  base: [],
  protocol: ['base'],
  calc: ['base'],
  temporal: ['base'],
  engine: ['base', 'protocol', 'temporal'],
  plan: ['base', 'protocol', 'calc', 'temporal', 'engine'],
  outcomes: ['base', 'protocol', 'temporal', 'plan'],
  drill: ['base', 'protocol', 'temporal', 'engine', 'plan'],
  storage: ['base', 'protocol', 'engine'],
  words: ['base', 'protocol', 'calc', 'temporal', 'engine', 'plan', 'outcomes', 'drill'],
  export: ['base', 'protocol', 'calc', 'temporal', 'engine', 'plan', 'outcomes', 'words'],
  sync: ['base', 'protocol', 'storage'],
  runtime: BELOW_RUNTIME,
  ui: [
    'base',
    'protocol',
    'calc',
    'temporal',
    'engine',
    'plan',
    'outcomes',
    'drill',
    'words',
    'export',
    'runtime',
  ],
  cli: BELOW_RUNTIME,
  'service-worker': [],
};

const PURE = '^src/(base|protocol|calc|temporal|engine|plan|outcomes|drill|words|export)/';

/** Rooms of the user interface. Parts know no room, what is shared knows no feature, features not one another. */
const FEATURES =
  'chair|today|set-up|plan|cases|record|materials|clinic|backup|lead|protocols|emergency|follow-up|outcomes|drill';

const uiRules = [
  {
    name: 'ui-parts',
    comment: 'Parts are drawn from what they are given: they know nothing of the screens.',
    severity: 'error',
    from: { path: '^src/ui/(parts|theme)/' },
    to: { path: '^src/ui/', pathNot: '^src/ui/(parts|theme)/' },
  },
  {
    name: 'ui-shared',
    comment: 'What features share knows none of them.',
    severity: 'error',
    from: { path: '^src/ui/shared/' },
    to: { path: '^src/ui/', pathNot: '^src/ui/(parts|theme|shared)/' },
  },
  {
    name: 'ui-features',
    comment: 'No feature imports another; what two of them need is shared.',
    severity: 'error',
    from: { path: `^src/ui/(${FEATURES})/` },
    to: { path: '^src/ui/', pathNot: '^src/ui/(parts|theme|shared|$1)/' },
  },
];

/** A layer may import itself, the layers listed for it, the shared tables and packages. */
const layerRules = Object.entries(LAYERS).map(([layer, allowed]) => ({
  name: `layer-${layer}`,
  comment: `src/${layer} imports ${allowed.length === 0 ? 'no other layer' : allowed.join(', ')}.`,
  severity: 'error',
  from: { path: `^src/${layer}/` },
  to: { path: '^src/', pathNot: `^src/(${[layer, ...allowed].join('|')})/` },
}));

/** One package has one door: only files under `door` import it. */
function door(pkg, path) {
  return {
    name: `door-${pkg}`,
    comment: `${pkg} is imported only by ${path}.`,
    severity: 'error',
    from: { path: '^src/', pathNot: path },
    to: { path: `^node_modules/${pkg}/` },
  };
}

const ASKED_OF_THE_BUNDLER = '[?](url|packed)$';

module.exports = {
  forbidden: [
    ...layerRules,
    ...uiRules,
    {
      name: 'pure-packages',
      comment: 'Pure folders use only packages that read no clock, no time zone and no device.',
      severity: 'error',
      from: { path: PURE },
      to: {
        path: '^node_modules/',
        pathNot:
          '^node_modules/(valibot|@noble/hashes|canonicalize|jsonc-parser|date-fns|@date-fns/tz|jstat)/',
      },
    },
    {
      name: 'base-packages',
      comment: 'The lowest layer stands on nothing.',
      severity: 'error',
      from: { path: '^src/base/' },
      to: { path: '^(node_modules|shared)/' },
    },
    {
      name: 'node-in-cli',
      comment: "Only the command line may use Node's own modules; the rest runs in a browser.",
      severity: 'error',
      from: { path: '^src/', pathNot: '^src/cli/' },
      to: { dependencyTypes: ['core'] },
    },
    door('idb', '^src/(storage|sync)/'),
    door('@nats-io', '^src/(sync|cli/clinic)/'),
    door('jsonc-parser', '^src/protocol/json-text[.]ts$'),
    door('jstat', '^src/outcomes/'),
    door('canonicalize', '^src/protocol/canonical-text[.]ts$'),
    door('workbox-window', '^src/runtime/update/app-update[.]ts$'),
    door('zustand', '^src/(runtime|ui)/'),
    {
      name: 'stores-without-react',
      comment:
        'The runtime makes stores; the hooks that read them, and React with them, are for ui.',
      severity: 'error',
      from: { path: '^src/runtime/' },
      to: { path: '^node_modules/zustand/', pathNot: '^node_modules/zustand/(esm/)?vanilla[.]' },
    },
    door('(react|react-dom)', '^src/(ui/|main[.]tsx$)'),
    door('wouter', '^src/(ui/|main[.]tsx$)'),
    door('date-fns', '^src/words/'),
    door('@date-fns/tz', '^src/words/zone[.]ts$'),
    door('workbox-(precaching|routing|core)', '^src/service-worker/'),
    {
      name: 'no-cycles',
      comment: 'Data walks one way inside a layer too.',
      severity: 'error',
      from: {},
      to: { circular: true },
    },
    {
      name: 'shipped-packages',
      comment: 'What ships may not lean on a package that only contributors install.',
      severity: 'error',
      from: { path: '^src/', pathNot: '[.]d[.]ts$' },
      to: {
        dependencyTypes: ['npm-dev', 'npm-no-pkg', 'unknown'],
        dependencyTypesNot: ['type-only'],
        pathNot: ASKED_OF_THE_BUNDLER,
      },
    },
    {
      name: 'resolvable',
      comment: 'Every import leads to a file.',
      severity: 'error',
      from: {},
      // `?url` and `?packed` ask the bundler for the address of a file; the path before them is checked by the build.
      to: { couldNotResolve: true, pathNot: ASKED_OF_THE_BUNDLER },
    },
    {
      name: 'inside-src',
      comment: 'The application reads nothing of the project but src and the shared tables.',
      severity: 'error',
      from: { path: '^src/' },
      to: {
        pathNot: ['^(src|shared|node_modules)/', ASKED_OF_THE_BUNDLER],
        dependencyTypesNot: ['core'],
      },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'types', 'default'],
      extensions: ['.ts', '.tsx', '.d.ts', '.mjs', '.js', '.cjs', '.json'],
    },
  },
};
