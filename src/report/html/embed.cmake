# Puts style, script and the chart library into a C++ source, with the hashes
# that the Content-Security-Policy names. All pages share one style.
set(html_dir ${CMAKE_CURRENT_LIST_DIR})
set(html_styles ${html_dir}/page.css ${html_dir}/health.css
  ${CMAKE_CURRENT_LIST_DIR}/../../alarms/alarms.css
  ${CMAKE_CURRENT_LIST_DIR}/../../season/season.css)
find_file(DYGRAPHS_SCRIPT dygraph.min.js
  PATHS /usr/share/javascript/dygraphs /usr/share/nodejs/dygraphs/dist)
find_file(DYGRAPHS_LICENCE copyright
  PATHS /usr/share/doc/libjs-dygraphs NO_DEFAULT_PATH)
if(NOT DYGRAPHS_SCRIPT OR NOT DYGRAPHS_LICENCE)
  message(FATAL_ERROR "dygraphs not found: install libjs-dygraphs")
endif()
set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS
  ${html_styles} ${html_dir}/health.js ${html_dir}/embedded.cpp.in
  ${DYGRAPHS_SCRIPT})

# base64 of the SHA-256 of a text: 64 hex digits, three of them two letters.
function(csp_hash text out)
  set(letters
    "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/")
  string(SHA256 hex "${text}")
  string(APPEND hex "00")
  set(result "")
  foreach(at RANGE 0 63 3)
    string(SUBSTRING "${hex}" ${at} 3 three)
    math(EXPR high "0x${three} >> 6")
    math(EXPR low "0x${three} & 63")
    string(SUBSTRING "${letters}" ${high} 1 first)
    string(SUBSTRING "${letters}" ${low} 1 second)
    string(APPEND result "${first}${second}")
  endforeach()
  string(SUBSTRING "${result}" 0 43 result)
  set(${out} "${result}=" PARENT_SCOPE)
endfunction()

# Raw string literals of at most 16000 characters, parted by commas.
function(as_literals text out)
  string(LENGTH "${text}" length)
  set(result "")
  set(at 0)
  while(at LESS length)
    string(SUBSTRING "${text}" ${at} 16000 piece)
    string(APPEND result "R\"telltale~(${piece})telltale~\",\n")
    math(EXPR at "${at} + 16000")
  endwhile()
  set(${out} "${result}" PARENT_SCOPE)
endfunction()

set(style "")
foreach(file IN LISTS html_styles)
  file(READ ${file} part)
  string(APPEND style "${part}")
endforeach()
# Comments and indentation stay behind.
string(REGEX REPLACE "/\\*[^*]*\\*/" "" style "${style}")
string(REGEX REPLACE "[ \n]+" " " style "${style}")
file(READ ${DYGRAPHS_SCRIPT} library)
file(READ ${html_dir}/health.js own)
file(READ ${DYGRAPHS_LICENCE} licence)
# Nothing may be fetched, not even by the browser's own tools.
string(REGEX REPLACE "//# sourceMappingURL=[^\n]*" "" library "${library}")
set(script "${library}\n${own}")
csp_hash("${style}" TELLTALE_STYLE_HASH)
csp_hash("${script}" TELLTALE_SCRIPT_HASH)
as_literals("${script}" TELLTALE_SCRIPT)
set(TELLTALE_STYLE "R\"telltale~(${style})telltale~\"")
set(TELLTALE_LICENCE "R\"telltale~(${licence})telltale~\"")
set(TELLTALE_EMBEDDED ${CMAKE_CURRENT_BINARY_DIR}/html_embedded.cpp)
configure_file(${html_dir}/embedded.cpp.in ${TELLTALE_EMBEDDED} @ONLY)
