/** Hand and head, so large that each site has room for a finger. */

/** A right hand from above; a left one is its mirror image. */
export function Hand() {
  return (
    <>
      <path class="p-cloth" d="M88 268H192L198 300H82Z" />
      <path
        class="p-skin"
        d="M96 270L94 240Q92 222 78 206L40 168Q30 154 40 145Q50 138 62 149L90 178Q97 184 96 174L87 84Q86 68 99 67Q112 66 114 82L120 144Q121 149 123 144L124 55Q125 39 138 39Q151 39 151 55L150 144Q151 149 153 144L163 72Q166 57 177 59Q189 61 187 77L178 152Q179 157 181 152L198 107Q204 93 214 97Q225 101 221 115L201 190Q195 218 187 238L185 270Z"
      />
      <path
        class="p-thin"
        d="M95 80Q95 72 100 72T107 79V84H96ZM131 53Q131 45 138 45T145 53V58H131ZM170 74Q171 65 177 65T182 75L181 79L170 77ZM205 110Q208 102 213 103T216 112L214 116L204 113ZM43 157Q40 152 45 150T54 155"
      />
      <path
        class="p-thin"
        d="M98 118h12M99 123h10M131 98h13M131 103h13M164 112l13 2M163 117l13 2M194 140l12 5M110 172q6-5 12 0M134 166q6-4 12 0M160 172q5-4 11 0M70 182l9-6"
      />
    </>
  );
}

/** The head from the front. */
export function HeadFront() {
  return (
    <>
      <path class="p-skin" d="M96 196V236Q60 244 42 262V286H218V262Q200 244 164 236V196Z" />
      <path class="p-cloth" d="M40 290Q42 258 92 240Q130 274 168 240Q218 258 220 290Z" />
      <path class="p-skin" d="M70 110Q66 36 130 36T190 110Q192 160 168 192Q150 214 130 214T92 192Q68 160 70 110Z" />
      <path class="p-skin" d="M70 112Q52 104 54 128Q58 152 74 148M190 112Q208 104 206 128Q202 152 186 148" />
      <path class="p-dark" d="M64 116Q50 12 130 12T196 116Q188 112 186 98Q178 62 146 70Q106 80 84 64Q72 84 74 112Z" />
      <circle class="p-dark" cx="104" cy="122" r="4" />
      <circle class="p-dark" cx="156" cy="122" r="4" />
      <path class="p-line" d="M132 124Q122 144 124 150T136 153" />
      <path class="p-thin" d="M92 106q10-7 22-2M146 104q12-5 22 2" />
      <path class="p-line" d="M108 176Q120 170 130 174Q140 170 152 176Q130 190 108 176Z" />
      <path class="p-thin" d="M109 176H151M122 199Q130 203 138 199" />
    </>
  );
}

/** The head from the right side. */
export function HeadSide() {
  return (
    <>
      <path class="p-skin" d="M72 250L76 200L144 208V250Z" />
      <path class="p-cloth" d="M40 290Q46 252 76 240Q110 262 146 240Q184 252 190 290Z" />
      <path
        class="p-skin"
        d="M58 120Q52 36 124 36Q180 40 184 98L206 142Q209 150 194 153Q198 160 195 166Q198 170 196 173Q199 178 194 182Q189 186 191 194Q190 212 168 212Q152 212 140 206L90 206Q62 180 58 120Z"
      />
      <path
        class="p-dark"
        d="M50 122Q40 14 124 14Q188 18 188 84Q160 92 148 76Q138 84 138 110Q126 104 120 120Q118 142 126 150Q120 180 92 204Q54 186 50 122Z"
      />
      <path class="p-skin" d="M122 128Q106 118 106 138T124 160Q132 152 128 144" />
      <circle class="p-dark" cx="170" cy="120" r="4" />
      <path class="p-thin" d="M160 104q10-6 20 0M176 172H196M168 196Q176 190 174 184" />
    </>
  );
}
