import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Rose, RoseArm, RoseSeries } from '../../lib/model.gen';
import { boxAround, inside, overlap, type Box } from './layout';
import { roseParts, type ArmParts, type RoseParts } from './parts';

const four = ['forward', 'reverse', 'left', 'right'];
const eight = [...four, 'forward-left', 'forward-right', 'reverse-left', 'reverse-right'];

const series = (value: number, low = value, high = value): RoseSeries => ({ count: 3, value, low, high, apart: high > 1.3 * low });

function parts(arms: readonly RoseArm[], chosen = 'forward', unit = 'gf', small = false): RoseParts {
  return roseParts({ unit, arms }, { chosen, words: (id) => id, wanted: 3, small });
}

const all = (ids: readonly string[], arm: Omit<RoseArm, 'id'>): readonly RoseArm[] => ids.map((id) => ({ ...arm, id }));

const armOf = (drawn: RoseParts, id: string): ArmParts => {
  const arm = drawn.arms.find((one) => one.id === id);
  assert.ok(arm, id);
  return arm;
};
const endOf = (drawn: RoseParts, id: string, of: string) => armOf(drawn, id).shapes.find((shape) => shape.of === of)?.end ?? Number.NaN;

test('more force is a longer arm, and ten times the force is as much longer anywhere', () => {
  const forces = [8, 16, 20, 62, 124, 200, 640, 1240, 2000];
  const ends = forces.map((force) =>
    endOf(
      parts([
        ...all(['left'], { rested: series(8) }),
        ...all(['right'], { rested: series(2000) }),
        ...all(['forward'], { rested: series(force) }),
      ]),
      'forward',
      'rested',
    ),
  );
  for (const [i, end] of ends.entries()) if (i > 0) assert.ok(end > (ends[i - 1] ?? 0), `${forces[i]} gf`);
  const at = (force: number) => ends[forces.indexOf(force)] ?? 0;
  assert.ok(Math.abs(at(200) - at(20) - (at(2000) - at(200))) < 1e-9, 'a decade is a decade');
  assert.ok(Math.abs(at(16) - at(8) - (at(124) - at(62))) < 1e-9, 'twice is twice');
});

test('a rung stands where an arm of the same force ends, and the dotted one at three times that', () => {
  for (const [asked, plenty] of [
    [50, 150],
    [10, 30],
    [250, 750],
  ] as const) {
    const drawn = parts([
      { id: 'forward', needed: true, asked, plenty, rested: series(asked) },
      { id: 'left', needed: true, asked, plenty, rested: series(plenty) },
      { id: 'right', rested: series(100) },
    ]);
    assert.equal(drawn.asked?.at, endOf(drawn, 'forward', 'rested'));
    assert.equal(drawn.plenty?.at, endOf(drawn, 'left', 'rested'));
    assert.equal(drawn.grid.find((one) => one.value === 100)?.at, endOf(drawn, 'right', 'rested'));
    assert.deepEqual([drawn.asked?.label?.text, drawn.plenty?.label?.text], [`asks ${asked}`, `3 times: ${plenty}`]);
  }
});

test('without a control there is no ring; where directions are asked different things each arm has its own', () => {
  const bare = parts(all(four, { rested: series(100) }));
  assert.deepEqual([bare.asked, bare.plenty, bare.arms.map((arm) => arm.asked)], [null, null, [null, null, null, null]]);
  const apart = parts(
    [
      { id: 'forward', needed: true, asked: 10, rested: series(10) },
      { id: 'left', needed: true, asked: 5, rested: series(20) },
    ],
    'left',
    'mm',
  );
  assert.equal(apart.asked, null);
  assert.equal(armOf(apart, 'forward').asked?.at, endOf(apart, 'forward', 'rested'));
  assert.ok((armOf(apart, 'left').asked?.at ?? 0) < endOf(apart, 'left', 'rested'));
});

test('rested lies outside and tired inside; who is stronger when tired is drawn the other way round', () => {
  const usual = armOf(parts([{ id: 'left', rested: series(138), tired: series(92) }]), 'left');
  assert.deepEqual(
    usual.shapes.map((shape) => shape.of),
    ['rested', 'tired'],
  );
  assert.ok((usual.shapes[0]?.end ?? 0) > (usual.shapes[1]?.end ?? 0));
  const odd = armOf(parts([{ id: 'left', rested: series(92), tired: series(138) }]), 'left');
  assert.deepEqual(
    odd.shapes.map((shape) => shape.of),
    ['tired', 'rested'],
    'the shorter one is drawn last, so that both are seen',
  );
});

test('what is assumed for the tired is a line of its own inside the rested arm', () => {
  const drawn = parts([{ id: 'left', rested: series(200), usable: 140, assumed: true }]);
  assert.deepEqual(
    armOf(drawn, 'left').shapes.map((shape) => shape.of),
    ['rested', 'assumed'],
  );
  assert.ok(endOf(drawn, 'left', 'assumed') < endOf(drawn, 'left', 'rested'));
  assert.equal(armOf(drawn, 'left').pill, null, 'what is assumed is not written as if it was measured');
});

test('a series with too few readings is drawn as not yet sure', () => {
  const drawn = parts([{ id: 'left', rested: { ...series(200), count: 2 }, tired: series(90) }]);
  assert.deepEqual(
    armOf(drawn, 'left').shapes.map((shape) => [shape.of, shape.few]),
    [
      ['rested', true],
      ['tired', false],
    ],
  );
});

test('readings that lie far apart step out beside the arm with both figures; near ones stay in it without', () => {
  const far = parts([
    { id: 'reverse', rested: series(138), tired: series(92, 62, 124) },
    { id: 'left', rested: series(400, 390, 410) },
  ]);
  const reverse = armOf(far, 'reverse');
  assert.equal(reverse.whisker?.far, true);
  assert.equal(reverse.apart?.text, '62 to 124');
  assert.ok((reverse.whisker?.from ?? 0) < endOf(far, 'reverse', 'tired') && endOf(far, 'reverse', 'tired') < (reverse.whisker?.to ?? 0));
  assert.ok(Math.abs(reverse.whisker?.aside ?? 0) > 40);
  const left = armOf(far, 'left');
  assert.deepEqual([left.whisker?.far, left.whisker?.aside, left.apart], [false, 0, null]);
  const rested = parts([{ id: 'reverse', rested: series(92, 62, 124), tired: series(80) }]);
  assert.equal(armOf(rested, 'reverse').apart?.text, '62 to 124', 'also when it is the rested ones that do');
});

test('an arm with too little has a bar where it ends and the word; a tight one the word alone', () => {
  const drawn = parts([
    { id: 'reverse', needed: true, asked: 50, plenty: 150, tired: series(92), usable: 92, short: true },
    { id: 'left', needed: true, asked: 50, plenty: 150, tired: series(140), usable: 140, tight: true },
    { id: 'right', needed: true, asked: 50, plenty: 150, tired: series(500), usable: 500 },
  ]);
  assert.equal(armOf(drawn, 'reverse').bar?.at, endOf(drawn, 'reverse', 'tired'));
  assert.deepEqual(
    drawn.arms.map((arm) => [arm.bar !== null, arm.name.wrong]),
    [
      [true, 'too little'],
      [false, 'tight'],
      [false, ''],
    ],
  );
});

test('directions that the control does not need are pale; without a control none is', () => {
  const drawn = parts([{ id: 'forward', needed: true, asked: 50 }, { id: 'left' }]);
  assert.deepEqual(
    drawn.arms.map((arm) => arm.pale),
    [false, true],
  );
  assert.deepEqual(
    parts(all(four, {})).arms.map((arm) => arm.pale),
    [false, false, false, false],
  );
});

test('the press stands in the middle, with the figure that counts', () => {
  assert.deepEqual(parts([{ id: 'press', rested: series(120), tired: series(90) }], 'press').hub, {
    id: 'press',
    figure: '90',
    chosen: true,
  });
  assert.equal(parts(all(four, {})).hub, null);
});

test('nothing that came is an arm that can be seen, and shorter than the weakest', () => {
  const drawn = parts([
    { id: 'left', rested: series(0) },
    { id: 'right', rested: series(2) },
  ]);
  assert.ok(endOf(drawn, 'left', 'rested') > drawn.frame.hub);
  assert.ok(endOf(drawn, 'left', 'rested') < endOf(drawn, 'right', 'rested'));
  assert.equal(armOf(drawn, 'left').name.figure, '0');
});

/** Every box of words. */
function labels(drawn: RoseParts): readonly (Box & { readonly of: string })[] {
  const { wide, high, hub: reach } = drawn.frame;
  const hub = { ...boxAround(wide / 2, high / 2, 2 * reach, 2 * reach), of: 'hub' };
  const rings = [drawn.asked?.label, drawn.plenty?.label, ...drawn.grid.map((one) => one.label)];
  return [
    hub,
    ...drawn.arms.flatMap((arm) => [
      { ...arm.name, of: `name of ${arm.id}` },
      ...(arm.pill ? [{ ...arm.pill, of: `pill of ${arm.id}` }] : []),
      ...(arm.apart ? [{ ...arm.apart, of: `apart of ${arm.id}` }] : []),
    ]),
    ...rings.flatMap((label, i) => (label ? [{ ...label, of: `ring ${i}` }] : [])),
  ];
}

/** Whether an arm's outline covers a part of a box: looked at along its middle and its sides. */
function covers({ frame }: RoseParts, arm: ArmParts, box: Box): boolean {
  const angle = (arm.turn * Math.PI) / 180;
  const end = Math.max(0, ...arm.shapes.map((shape) => shape.end));
  for (let radius = frame.hub; radius < end; radius += 3) {
    for (const aside of [-10, 0, 10]) {
      const x = frame.wide / 2 + radius * Math.sin(angle) + aside * Math.cos(angle);
      const y = frame.high / 2 - radius * Math.cos(angle) + aside * Math.sin(angle);
      if (x > box.x && x < box.x + box.wide && y > box.y && y < box.y + box.high) return true;
    }
  }
  return false;
}

function assertClear(drawn: RoseParts, what: string): void {
  const boxes = labels(drawn);
  for (const [i, one] of boxes.entries()) {
    assert.ok(inside(one, drawn.frame.wide, drawn.frame.high), `${what}: ${one.of} leaves the drawing`);
    for (const other of boxes.slice(i + 1)) assert.ok(!overlap(one, other), `${what}: ${one.of} over ${other.of}`);
    for (const arm of drawn.arms) {
      const own = one.of === `pill of ${arm.id}` || one.of === 'hub';
      assert.ok(own || !covers(drawn, arm, one), `${what}: ${one.of} over the arm ${arm.id}`);
    }
  }
  for (const arm of drawn.arms)
    assert.ok(
      arm.shapes.every((shape) => shape.end > drawn.frame.hub && shape.end <= drawn.frame.most),
      `${what}: ${arm.id}`,
    );
}

test('no words cover others or an arm, at any force, in four directions or eight', () => {
  const extremes = [0, 2, 8, 16, 50, 62, 124, 640, 2000, 10_000];
  for (const [ids, small] of [
    [four, false],
    [four, true],
    [eight, false],
  ] as const) {
    for (const rested of extremes) {
      for (const tired of extremes) {
        const arm = {
          needed: true,
          asked: 50,
          plenty: 150,
          rested: series(rested, rested / 2, rested),
          tired: series(tired, tired / 2, tired * 1.2),
          usable: Math.min(rested, tired),
          short: true,
        };
        const drawn = parts(all(ids, arm), 'forward', 'gf', small);
        assertClear(drawn, `${ids.length} directions, ${small ? 'small, ' : ''}${rested} and ${tired} gf`);
        for (const one of drawn.arms) assert.ok(one.pill, `the tired figure of ${one.id} found no room at ${rested} and ${tired} gf`);
      }
    }
  }
});

test('no words cover others in roses of all sorts', () => {
  let seed = 7;
  const random = () => (seed = (seed * 1103515245 + 12345) % 2 ** 31) / 2 ** 31;
  for (let round = 0; round < 400; round++) {
    const force = () => Math.round(10 ** (0.3 + 3.2 * random()));
    const ids = random() < 0.5 ? four : eight;
    const asked = [10, 50, 250][Math.floor(3 * random())] ?? 50;
    const arms: readonly RoseArm[] = ids.map((id) => {
      const low = force();
      const taken = () => series(low, low, Math.round(low * (1 + random())));
      return {
        id,
        needed: random() < 0.8,
        asked,
        plenty: 3 * asked,
        ...(random() < 0.8 ? { rested: taken() } : {}),
        ...(random() < 0.6 ? { tired: taken() } : {}),
      };
    });
    assertClear(parts([...arms, { id: 'press', rested: series(force()) }], 'left', 'gf', random() < 0.5), JSON.stringify(arms));
  }
});

test('four arms always have room for what lies far apart and for the ring of what is asked', () => {
  for (const force of [8, 20, 62, 200, 640, 2000]) {
    const rose: Rose['arms'] = all(four, { needed: true, asked: 50, plenty: 150, tired: series(force, force / 2, force) });
    const drawn = parts(rose);
    for (const arm of drawn.arms) assert.ok(arm.apart, `${arm.id} at ${force} gf`);
    assert.ok(drawn.asked?.label && drawn.plenty?.label, `rings at ${force} gf`);
  }
});
