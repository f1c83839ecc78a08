import assert from 'node:assert/strict';
import { test } from 'node:test';
import { hitOf, type Hit } from './hits';
import { overlap } from './layout';
import { ROSE, SMALL_ROSE } from './parts';

const boxOf = ({ left, top, width, height }: Hit) => ({ x: left, y: top, wide: width, high: height });

test('on a telephone every direction is touched on 64 px and more, and none over another', () => {
  // 390 px wide with the page's margins; the press is made as large by its style.
  const wide = 358;
  const px = (wide / SMALL_ROSE.wide) * SMALL_ROSE.high;
  const hits = ['forward', 'reverse', 'left', 'right'].map((id) => hitOf(id, SMALL_ROSE));
  for (const hit of hits) {
    assert.ok(hit);
    assert.ok((hit.width / 100) * wide >= 64 && (hit.height / 100) * px >= 64, JSON.stringify(hit));
  }
  const over = hits.flatMap((one, i) =>
    hits
      .slice(i + 1)
      .filter((two) => one && two && overlap(boxOf(one), boxOf(two)))
      .map((two) => JSON.stringify([one, two])),
  );
  assert.deepEqual(over, []);
  const press = hitOf('press', ROSE);
  assert.ok(press && press.left + press.width / 2 === 50 && press.top + press.height / 2 === 50);
});

test('a direction that nobody knows is touched nowhere', () => {
  assert.equal(hitOf('up', ROSE), undefined);
});
