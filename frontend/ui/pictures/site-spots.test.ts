import assert from 'node:assert/strict';
import { test } from 'node:test';
import { sites } from '../sites';
import { closestView, percentOf, siteViews, viewOf, wholeViews } from './site-spots';

test('every driving site can be tapped on a drawing that a whole view leads to', () => {
  const reached = new Set<string>();
  for (const { value } of wholeViews) {
    for (const spot of viewOf(value).spots) {
      for (const one of spot.closer ? viewOf(spot.closer).spots : [spot]) reached.add(one.site ?? '');
    }
  }
  assert.deepEqual(
    sites.map((site) => site.id).filter((id) => !reached.has(id)),
    [],
  );
});

/** The width that a drawing has on a tablet and on a telephone of 390 px, as in pictures.css. */
const tablet = 440;
const telephone = 346;

test('sites lie 64 px apart on a tablet, and 44 px on a telephone', () => {
  for (const view of siteViews) {
    for (const [i, one] of view.spots.entries()) {
      for (const other of view.spots.slice(i + 1)) {
        const apart = Math.hypot(one.x - other.x, one.y - other.y) / view.box.wide;
        const names = `${view.id}: ${one.site ?? one.closer} and ${other.site ?? other.closer}`;
        assert.ok(apart * tablet >= 64, `${names} lie ${Math.round(apart * tablet)} px apart on a tablet`);
        assert.ok(apart * telephone >= 44, `${names} lie ${Math.round(apart * telephone)} px apart on a telephone`);
      }
    }
  }
});

test('every spot lies within its drawing, and a left hand is the mirror image of a right one', () => {
  for (const view of siteViews) {
    for (const spot of view.spots) for (const at of percentOf(view, spot)) assert.ok(at > 4 && at < 96, `${view.id} ${spot.site}: ${at}`);
  }
  const [right] = percentOf(viewOf('hand-right'), { x: 50, y: 158 });
  const [left] = percentOf(viewOf('hand-left'), { x: 50, y: 158 });
  assert.equal(Math.round(right + left), 100);
});

test('the client’s right is at the left from the front, and at the right from the back', () => {
  const xOf = (id: 'front' | 'back', site: string) => viewOf(id).spots.find((spot) => spot.site === site)?.x ?? NaN;
  assert.ok(xOf('front', 'shoulder-right') < xOf('front', 'shoulder-left'));
  assert.ok(xOf('back', 'shoulder-right') > xOf('back', 'shoulder-left'));
});

test('a chosen site is shown where it is drawn largest', () => {
  assert.equal(closestView('index-left'), 'hand-left');
  assert.equal(closestView('chin'), 'head');
  assert.equal(closestView('knee-right'), 'front');
  assert.equal(closestView('toe-left'), 'side-left');
  assert.equal(closestView(''), 'front');
});
