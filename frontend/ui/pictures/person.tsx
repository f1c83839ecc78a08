/**
 * The seated person. Solid ink is what stays dark on a grey printer: hair, tyres,
 * shoes. The chair is pale, the person white, and the line has one weight.
 */
import type { ComponentChildren } from 'preact';

/** A half of the drawing and its mirror image. */
function Both(props: { readonly children: ComponentChildren }) {
  return (
    <>
      <g>{props.children}</g>
      <g transform="translate(300 0) scale(-1 1)">{props.children}</g>
    </>
  );
}

/** The seated person from the front. 0 10 300 392 */
export function PersonFront() {
  return (
    <>
      <rect class="p-pale" x="116" y="32" width="68" height="54" rx="17" />
      <path class="p-pale" d="M92 134Q93 112 112 110H188Q207 112 208 134L213 262H87Z" />
      <path class="p-pale" d="M92 306H208L202 352H98Z" />
      <rect class="p-dark" x="42" y="296" width="28" height="98" rx="13" />
      <path class="p-tread" d="M47 310h18M47 323h18M47 336h18M47 349h18M47 362h18M47 375h18" />
      <rect class="p-dark" x="230" y="296" width="28" height="98" rx="13" />
      <path class="p-tread" d="M235 310h18M235 323h18M235 336h18M235 349h18M235 362h18M235 375h18" />
      <rect class="p-dark" x="84" y="352" width="12" height="42" rx="6" />
      <rect class="p-dark" x="204" y="352" width="12" height="42" rx="6" />
      <rect class="p-pale" x="88" y="240" width="124" height="40" rx="12" />
      <path class="p-pale" d="M92 280H208V308H92Z" />
      <Both>
        <path class="p-pale" d="M58 262H78V304H58Z" />
        <path class="p-skin" d="M60 190Q50 216 51 242Q54 254 68 253Q80 251 82 238L94 200Q92 186 78 184Q66 182 60 190Z" />
        <path class="p-cloth" d="M100 124Q82 134 70 164Q58 190 56 206Q58 218 74 220Q86 220 90 210L108 166Z" />
        <path class="p-thin" d="M60 212Q72 219 88 213" />
        <path class="p-trousers" d="M99 288L107 362H131L138 288Z" />
        <path class="p-dark" d="M105 358Q102 380 110 382H128Q136 382 133 358Z" />
      </Both>
      <path class="p-skin" d="M139 92V114Q150 126 161 114V92Z" />
      <path
        class="p-cloth"
        d="M139 109Q118 113 108 119Q97 125 97 140L104 196Q107 226 103 258H197Q193 226 196 196L203 140Q203 125 192 119Q182 113 161 109Q150 124 139 109Z"
      />
      <path class="p-thin" d="M106 200Q112 176 108 152M194 200Q188 176 192 152" />
      <Both>
        <path class="p-trousers" d="M104 240Q93 262 95 288Q97 304 117 305Q138 304 141 288L149 252Q130 236 104 240Z" />
        <path class="p-thin" d="M105 290Q116 297 129 290" />
      </Both>
      <path class="p-pale" d="M94 382H206V392H94Z" />
      <path class="p-skin" d="M125 64Q124 36 150 36T175 64Q175 84 165 95Q158 103 150 103T135 95Q125 84 125 64Z" />
      <path class="p-skin" d="M125 62Q117 60 118 69Q119 78 126 77M175 62Q183 60 182 69Q181 78 174 77" />
      <path class="p-dark" d="M122 64Q116 24 150 24T178 64Q174 64 173 58Q170 46 156 49Q140 53 131 47Q127 54 126 64Z" />
      <circle class="p-dark" cx="140" cy="69" r="2.2" />
      <circle class="p-dark" cx="160" cy="69" r="2.2" />
      <path class="p-thin" d="M151 70Q147 78 148 80T152 81M142 89Q150 94 158 89M135 61q5-3 9-1M156 60q5-2 9 1" />
      <rect class="p-pale" x="46" y="256" width="40" height="22" rx="7" />
      <path class="p-line" d="M66 256V244" />
      <path class="p-skin" d="M52 236Q48 252 54 258Q58 262 66 260Q76 262 80 256Q84 248 80 236Q66 228 52 236Z" />
      <path class="p-thin" d="M60 259V249M67 260V249M74 259V249" />
      <rect class="p-pale" x="214" y="252" width="40" height="13" rx="6.5" />
      <path class="p-skin" d="M220 238Q216 252 222 257Q228 261 234 259Q244 261 248 255Q252 248 248 236Q234 229 220 238Z" />
      <path class="p-thin" d="M228 258V249M235 259V249M242 258V249" />
    </>
  );
}

/** The seated person from the right side. 30 10 280 392 */
export function PersonSide() {
  return (
    <>
      <path class="p-pale" d="M96 60Q110 54 112 66L116 92Q117 102 107 104Q98 104 96 94Z" />
      <path class="p-line" d="M102 104L100 126" />
      <path class="p-pale" d="M80 128Q92 116 104 126L124 246Q122 262 104 260Q94 258 92 248Z" />
      <path class="p-pale" d="M84 262H208Q218 264 218 274T208 286H84Q74 284 74 274T84 262Z" />
      <path class="p-pale" d="M70 300Q72 290 84 290H196Q212 292 214 306L220 330H64Z" />
      <path class="p-line" d="M212 280L236 372" />
      <path class="p-trousers" d="M112 226Q104 262 128 264L214 262Q216 262 218 268L232 358H256L246 246Q244 228 226 226Z" />
      <path class="p-dark" d="M230 356H258Q280 362 290 372Q294 382 284 382H232Z" />
      <path class="p-pale" d="M222 382H294V392H222Z" />
      <path class="p-skin" d="M118 92L120 116Q136 124 144 110L142 92Z" />
      <path
        class="p-cloth"
        d="M122 108Q104 114 104 140L112 224Q112 244 128 246H166Q172 240 170 220L164 150Q162 116 144 108Q134 116 122 108Z"
      />
      <path
        class="p-skin"
        d="M112 62Q110 32 138 32Q162 34 163 58L172 76Q173 80 166 81Q168 86 166 89Q168 93 165 95Q165 106 154 107Q146 107 142 104L122 100Q112 86 112 62Z"
      />
      <path
        class="p-dark"
        d="M108 66Q104 24 138 24Q164 26 165 52Q150 56 146 48Q140 50 140 62Q134 60 132 68Q130 78 134 84Q130 94 122 98Q110 88 108 66Z"
      />
      <path class="p-skin" d="M130 70Q124 66 124 74T132 82" />
      <circle class="p-dark" cx="157" cy="66" r="2.2" />
      <path class="p-thin" d="M158 90Q162 91 166 89M152 58q5-3 9 0" />
      <path class="p-pale" d="M104 226H204Q212 228 212 234T204 242H104Q96 240 96 234T104 226Z" />
      <path class="p-line" d="M112 242V262" />
      <path class="p-pale" d="M204 222H234V240H204Z" />
      <path class="p-line" d="M220 222V206" />
      <path class="p-skin" d="M128 204Q120 220 134 226L206 224Q222 222 228 212Q228 200 216 200L196 206L150 202Z" />
      <path class="p-thin" d="M214 201Q208 208 214 214M222 200Q216 208 222 215" />
      <path class="p-cloth" d="M118 124Q108 134 112 162L118 206Q124 226 146 226Q160 224 160 208L148 140Q144 118 128 118Z" />
      <path class="p-thin" d="M160 208Q156 216 158 224" />
      <circle class="p-dark" cx="136" cy="346" r="46" />
      <circle class="p-hub" cx="136" cy="346" r="30" />
      <path class="p-thin" d="M136 316V376M106 346H166M115 325L157 367M157 325L115 367" />
      <circle class="p-dark" cx="136" cy="346" r="6" />
      <circle class="p-dark" cx="62" cy="374" r="18" />
      <circle class="p-hub" cx="62" cy="374" r="8" />
      <path class="p-line" d="M70 322L62 356" />
      <circle class="p-dark" cx="206" cy="374" r="18" />
      <circle class="p-hub" cx="206" cy="374" r="8" />
      <path class="p-line" d="M204 326V356" />
    </>
  );
}

/** The seated person from the back. 0 10 300 392 */
export function PersonBack() {
  return (
    <>
      <path class="p-trousers" d="M104 330L108 372H130L132 330ZM168 330L170 372H192L196 330Z" />
      <Both>
        <path class="p-skin" d="M58 196Q50 222 52 246Q60 256 72 250L92 204Z" />
        <rect class="p-pale" x="46" y="250" width="40" height="13" rx="6.5" />
        <path class="p-pale" d="M58 263H78V304H58Z" />
        <path class="p-cloth" d="M102 124Q82 134 70 164Q58 190 56 206Q58 218 74 220Q86 220 90 210L110 166Z" />
      </Both>
      <path class="p-skin" d="M138 92V118H162V92Z" />
      <path class="p-cloth" d="M138 108Q112 113 104 122Q96 132 98 160H202Q204 132 196 122Q188 113 162 108Q150 116 138 108Z" />
      <path class="p-skin" d="M125 62Q117 60 118 69Q119 78 126 77M175 62Q183 60 182 69Q181 78 174 77" />
      <path class="p-dark" d="M124 70Q116 24 150 24T176 70Q176 90 166 98Q150 106 134 98Q124 90 124 70Z" />
      <rect class="p-pale" x="118" y="62" width="64" height="36" rx="15" />
      <path class="p-line" d="M144 98V132M156 98V132" />
      <path class="p-pale" d="M96 150Q96 132 112 131H188Q204 132 204 150L210 276H90Z" />
      <path class="p-thin" d="M108 150Q150 160 192 150M104 256Q150 248 196 256M150 162V246" />
      <path class="p-line" d="M98 150H84V136M202 150H216V136" />
      <path class="p-pale" d="M88 292H212L206 356H94Z" />
      <rect class="p-pale" x="112" y="304" width="76" height="34" rx="8" />
      <path class="p-thin" d="M124 321h52" />
      <rect class="p-dark" x="42" y="296" width="28" height="98" rx="13" />
      <path class="p-tread" d="M47 310h18M47 323h18M47 336h18M47 349h18M47 362h18M47 375h18" />
      <rect class="p-dark" x="230" y="296" width="28" height="98" rx="13" />
      <path class="p-tread" d="M235 310h18M235 323h18M235 336h18M235 349h18M235 362h18M235 375h18" />
      <path class="p-pale" d="M70 334H90V348H70ZM210 334H230V348H210Z" />
      <rect class="p-dark" x="100" y="358" width="12" height="36" rx="6" />
      <rect class="p-dark" x="188" y="358" width="12" height="36" rx="6" />
      <path class="p-pale" d="M90 276H210V293H90Z" />
    </>
  );
}
