import { itemIn } from '../../ui/result/items';
import { sourceOf } from '../../ui/visit/links';
import { sentenceOf } from '../../ui/words';
import type { Item, VisitView } from '../../lib';
import type { AnswerGiven } from '../../lib/model.gen';
import { Bands } from './bands';

/** A computed item: the value, where it comes from and where to measure it. There is nothing to type. */
export function ComputedBody(props: { readonly item: Item; readonly view: VisitView; readonly shown: AnswerGiven }) {
  const { item, view } = props;
  const source = sourceOf(item.from ?? '');
  const worked = itemIn(view.result, item.id);
  const value = worked?.state === 'answered' ? sentenceOf(worked.shown) : '';
  return (
    <div class="computed">
      <p class="computed-value">
        <span class="field-label">Worked out</span>
        <output>{value || 'not measured yet'}</output>
      </p>
      <p class="field-hint">{source.words} It is never typed.</p>
      <Bands item={item} view={view} saved />
      <a class="link-row" href={source.href(view.visit.id)}>
        {source.link}
      </a>
    </div>
  );
}
