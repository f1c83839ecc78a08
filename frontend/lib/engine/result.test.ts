import assert from 'node:assert/strict';
import { test } from 'node:test';
import { parseResult, ResultError } from './result';

const HEAD = 'doorsill-result\t1\t1.0.0\tabc123';
const LEVEL = 'level\tpractise\t1\tDriving only as practice.';

function resultOf(...lines: readonly string[]): string {
  return [HEAD, LEVEL, ...lines].join('\n') + '\n';
}

test('the head names the engine and the rules, the level line the level', () => {
  const r = parseResult(resultOf());
  assert.equal(r.engine, '1.0.0');
  assert.equal(r.rules, 'abc123');
  assert.equal(r.level, 'practise');
  assert.equal(r.interim, true);
  assert.equal(r.sentence, 'Driving only as practice.');
});

test('gates and effects keep their order', () => {
  const r = parseResult(
    resultOf(
      'gate\tpause\t1\tno-stop\tNo STOP is open.',
      'gate\taccompanied\t0\tscore-pos\tPositioning is 52, needs 60.',
      'effect\tstop\tsaf-stop\tDoes not stop when asked.',
    ),
  );
  assert.deepEqual(
    r.gates.map((g) => [g.level, g.met, g.code]),
    [
      ['pause', true, 'no-stop'],
      ['accompanied', false, 'score-pos'],
    ],
  );
  assert.deepEqual(r.effects, [{ effect: 'stop', item: 'saf-stop', sentence: 'Does not stop when asked.' }]);
});

test('a domain below the coverage limit has a range and no score', () => {
  const r = parseResult(
    resultOf('domain\tpos\t-\t31\t74\t57\t5\t9\tFive of nine answered.', 'domain\tctl\t71\t71\t71\t100\t12\t12\tAll answered.'),
  );
  assert.deepEqual(r.domains[0], {
    code: 'pos',
    score: null,
    low: 31,
    high: 74,
    coverage: 57,
    answered: 5,
    applicable: 9,
    sentence: 'Five of nine answered.',
  });
  assert.equal(r.domains[1]?.score, 71);
});

test('an item without value is not an item with value zero', () => {
  const r = parseResult(resultOf('item\tpos-a\tnot-tested\t-\t-\t-\t0\t0', 'item\tpos-b\tanswered\t0\t0\t0\t0\t1'));
  assert.equal(r.items.get('pos-a')?.value, null);
  assert.equal(r.items.get('pos-a')?.shown, null);
  assert.equal(r.items.get('pos-b')?.value, 0);
  assert.equal(r.items.get('pos-b')?.needsChoice, true);
});

test('figures, verdicts, reasons and classes', () => {
  const r = parseResult(
    resultOf(
      'figure\treserve\tchin\tforward\t2.4\t\tassumed\tTired figure assumed.',
      'figure\treserve\tchin\treverse\t-\t\tmissing\tNo readings.',
      'control\tmarginal\tnot feasible\tTight in reverse.',
      'reason\tforce\tmarginal\tReserve 2.4.\tA lighter class.',
      'class\tsmall\tnot-feasible\t1.2\tNeeds 50 gf.',
      'class\tvery-light\tfeasible\t-\tMore sensitive than needed.',
    ),
  );
  assert.deepEqual(
    r.figures.map((f) => [f.direction, f.value, f.basis]),
    [
      ['forward', '2.4', 'assumed'],
      ['reverse', null, 'missing'],
    ],
  );
  assert.deepEqual(r.control, { indoors: 'marginal', outdoors: 'not-feasible', sentence: 'Tight in reverse.' });
  assert.deepEqual(r.reasons[0], { rule: 'force', verdict: 'marginal', sentence: 'Reserve 2.4.', change: 'A lighter class.' });
  assert.deepEqual(
    r.classes.map((c) => [c.id, c.verdict, c.reserve]),
    [
      ['small', 'not-feasible', '1.2'],
      ['very-light', 'feasible', null],
    ],
  );
});

test('what is missing is an item or a reading', () => {
  const r = parseResult(
    resultOf(
      'missing\tstop\tsaf-stop\tAsk this first.',
      'missing\tneeded\treading:force:chin:left\tThree readings.',
      'missing\tlater\thom-x\tNice to have.',
    ),
  );
  assert.deepEqual(
    r.missing.map((m) => [m.group, m.what, m.reading]),
    [
      ['stop', 'saf-stop', false],
      ['needed', 'force:chin:left', true],
      ['useful', 'hom-x', false],
    ],
  );
});

test('costs, steps up, override and notes', () => {
  const r = parseResult(
    resultOf(
      'cost\tpos\tpos-a\t12.5\tPelvis slides.',
      'up\taccompanied\tpos-a\tRaise it to 3.',
      'up\taccompanied\t-\tWrite limits.',
      'override\trefused\tpractise\tAn open STOP.',
      'note\tA tab\tinside stays.',
    ),
  );
  assert.deepEqual(r.costs, [{ domain: 'pos', item: 'pos-a', points: 12.5, sentence: 'Pelvis slides.' }]);
  assert.deepEqual(
    r.up.map((u) => u.item),
    ['pos-a', null],
  );
  assert.deepEqual(r.override, { accepted: false, level: 'practise', sentence: 'An open STOP.' });
  assert.deepEqual(r.notes, ['A tab\tinside stays.']);
});

test('every control at every site has its verdict, place in the order and reasons', () => {
  const r = parseResult(
    resultOf(
      'verdict\tkit-a\tchin\tfeasible\tnot feasible\t1\tmain\tThe least sensitive one.',
      'verdict\tclass:standard\tchin\tnot measured\tnot measured\t-\t-\tNot enough measured.',
      'why\tkit-a\tchin\trough-head\toutdoors\tnot feasible\tToo light for rough ground.\tA heavier control.',
      'why\tkit-a\tchin\tforce\tboth\tfeasible\tReserve 4.1.\t-',
      'window\trested\tfeasible\tFeasible while rested.',
      'window\ttired\tmarginal\tReserve 2.4 when tired.',
    ),
  );
  assert.deepEqual(
    r.verdicts.map((v) => [v.control, v.indoors, v.outdoors, v.rank, v.role]),
    [
      ['kit-a', 'feasible', 'not-feasible', 1, 'main'],
      ['class:standard', 'unknown', 'unknown', null, null],
    ],
  );
  assert.deepEqual(
    r.whys.map((w) => [w.rule, w.where, w.verdict, w.change]),
    [
      ['rough-head', 'outdoors', 'not-feasible', 'A heavier control.'],
      ['force', 'both', 'feasible', ''],
    ],
  );
  assert.deepEqual(
    r.windows.map((w) => [w.state, w.verdict]),
    [
      ['rested', 'feasible'],
      ['tired', 'marginal'],
    ],
  );
});

test('figures under a load belong to it and to nothing else', () => {
  const r = parseResult(
    resultOf(
      'figure\tusable\tchin\tforward\t120\tgf\tmeasured\t',
      'load\tkit-a\tchin\tforward\t42\tAsks for 42 % of what is there.',
      'figure\thold-time-low\tchin\tforward\t1.2\tmin\tassumed\tBorrowed from another body region.',
      'load\tkit-b\tchin\tforward\t-\tNot measured.',
      'basis\thold-time-low\tt = a f^b\tA published curve\tborrowed: shoulder',
      'figure\tduty\tchin\t-\t30\t%\tmeasured\t',
      'exposure\tchin\tOften and long.',
      'recheck-by\t6\tLook again in six weeks.',
    ),
  );
  assert.deepEqual(
    r.figures.map((f) => f.name),
    ['usable', 'duty'],
  );
  assert.deepEqual(
    r.loads.map((l) => [l.control, l.share, l.figures.map((f) => f.value)]),
    [
      ['kit-a', 42, ['1.2']],
      ['kit-b', null, []],
    ],
  );
  assert.equal(r.bases.get('hold-time-low')?.status, 'borrowed: shoulder');
  assert.deepEqual(r.exposures, [{ site: 'chin', sentence: 'Often and long.' }]);
  assert.deepEqual(r.recheckBy, { weeks: 6, sentence: 'Look again in six weeks.' });
});

test('passages and what is due again', () => {
  const r = parseResult(
    resultOf(
      'passage\tp1\tdoes not fit\t-35\tShort by 35 mm.\tDriven straight.\t-',
      'passage\tp2\tunknown\t-\tThe width was not measured.\t-\tADA 404.2.3; check your local code',
      'due\tsaf-stopcall\tBraking was changed since.',
    ),
  );
  assert.deepEqual(
    r.passages.map((p) => [p.fit, p.left, p.assumption, p.reference]),
    [
      ['does-not-fit', -35, 'Driven straight.', ''],
      ['unknown', null, '', 'ADA 404.2.3; check your local code'],
    ],
  );
  assert.deepEqual(r.due, [{ item: 'saf-stopcall', sentence: 'Braking was changed since.' }]);
});

test('kinds of a later engine are counted and skipped', () => {
  const r = parseResult(resultOf('forecast\tchin\t12', '__proto__\tx', 'constructor\ty'));
  assert.equal(r.unknown, 3);
  assert.equal(r.level, 'practise');
});

test('what is not a result is refused with what was expected', () => {
  const cases: readonly (readonly [string, RegExp])[] = [
    ['', /expected a result of format 1, got “nothing”/],
    ['doorsill-result\t2\t9\tx\nlevel\tpause\t0\t', /format 1/],
    [HEAD, /expected a line that states the level/],
    [`${HEAD}\nlevel\tgreen\t0\tx`, /expected a level \(pause, .*got “green”/],
  ];
  for (const [text, want] of cases) {
    assert.throws(
      () => parseResult(text),
      (err) => err instanceof ResultError && want.test(err.message),
      text,
    );
  }
});
