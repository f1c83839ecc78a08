import { useMemo } from 'preact/hooks';
import { PartMark } from '../../ui/part-mark';
import { links } from '../../ui/visit/links';
import type { Section, VisitView } from '../../lib';
import { partStanding } from './part-state';

function PartRow(props: { readonly section: Section; readonly view: VisitView; readonly path: string }) {
  const { section, view } = props;
  const href = links.part(view.visit.id, section.code);
  const { state, done, of, words } = partStanding(section, view);
  const current = props.path === href;
  // With most answers nothing of most parts changes.
  return useMemo(
    () => drawn({ href, title: section.title, current, state, done, of, words }),
    [href, section, current, state, done, of, words],
  );
}

type Drawn = ReturnType<typeof partStanding> & { readonly href: string; readonly title: string; readonly current: boolean };

function drawn({ href, title, current, state, done, of, words }: Drawn) {
  return (
    <li>
      <a class={`rail-part rail-${state}`} href={href} aria-current={current ? 'page' : undefined}>
        <PartMark state={state} share={done / of} />
        <span class="rail-name">
          <span>{title}</span>
          <small>{words}</small>
        </span>
        <span class="rail-count">
          <strong>{done}</strong>
          <span aria-hidden="true">/</span>
          <span class="unseen"> of </span>
          {of}
        </span>
      </a>
    </li>
  );
}

/** The parts of the checklist with how far each is: map and progress in one. */
export function PartRows(props: { readonly view: VisitView; readonly path: string }) {
  const { view, path } = props;
  return (
    <ul class="rail-list">
      {view.checklist.sections.map((section) => (
        <PartRow key={section.code} section={section} view={view} path={path} />
      ))}
    </ul>
  );
}
