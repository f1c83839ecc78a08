import { PartMark } from '../../ui/part-mark';
import { links } from '../../ui/visit/links';
import type { Section, VisitView } from '../../lib';
import { partStanding } from './part-state';

function PartRow(props: { readonly section: Section; readonly view: VisitView; readonly path: string }) {
  const { section, view } = props;
  const href = links.part(view.visit.id, section.code);
  const { state, done, of, words } = partStanding(section, view);
  return (
    <li>
      <a class={`rail-part rail-${state}`} href={href} aria-current={props.path === href ? 'page' : undefined}>
        <PartMark state={state} share={done / of} />
        <span class="rail-name">
          <span>{section.title}</span>
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
