# Who may include whom: the table of DEVELOPERS.md, over every #include line.
# ROOT
cmake_minimum_required(VERSION 3.25)

# layer|folders of the core it may use|standard headers beyond the common ones
set(common array bit cassert compare concepts cstddef cstdint limits span
  string_view tuple type_traits)
set(layers
  "base|base|"
  "acquire|base acquire|"
  "condition|base acquire condition|algorithm cmath"
  "detect|base acquire condition detect|algorithm cmath"
  "assess|base acquire condition detect assess|algorithm cmath"
  "forecast|base acquire condition detect assess forecast|algorithm cmath"
  "advise|base acquire condition detect assess forecast advise|algorithm cmath"
  ".|base acquire condition detect assess forecast advise|algorithm cmath")
# A header of the core that is no layer: may stand where its own includes may.
set(profile_needs "base acquire")

# Saved state is bytes; the C interface stands on caller's storage and C types.
set(special "box.hpp cstring" "box.hpp new" "c_interface.hpp cstring" "c_interface.hpp new"
  "telltale.h stdbool.h" "telltale.h stddef.h" "telltale.h stdint.h")

set(complaints)
function(complain file what)
  set(complaints ${complaints} "${file}: ${what}" PARENT_SCOPE)
endfunction()

file(GLOB_RECURSE headers RELATIVE ${ROOT}/include/telltale
  ${ROOT}/include/telltale/*)
list(LENGTH headers seen)
if(seen LESS 50)
  message(FATAL_ERROR "only ${seen} headers found under ${ROOT}/include")
endif()
# Lists of checks, which know the checks.
set(lists detect/checks/all.hpp detect/protection_checks.hpp)
foreach(header IN LISTS headers)
  string(REGEX MATCH "^([a-z]+)/" folder "${header}")
  set(folder "${CMAKE_MATCH_1}")
  if(folder STREQUAL "")
    set(folder ".")
  endif()
  set(folders)
  foreach(layer IN LISTS layers)
    string(REPLACE "|" ";" layer "${layer}")
    list(GET layer 0 name)
    if(name STREQUAL folder)
      list(GET layer 1 folders)
      list(GET layer 2 beyond)
    endif()
  endforeach()
  if(folders STREQUAL "")
    complain(${header} "lies in no known layer")
    continue()
  endif()
  if(header STREQUAL "profile.hpp")
    set(folders ${profile_needs})
  endif()
  separate_arguments(folders)
  separate_arguments(beyond)
  file(STRINGS ${ROOT}/include/telltale/${header} lines REGEX "^ *# *include")
  foreach(line IN LISTS lines)
    if(line MATCHES "<([^>]+)>")
      if(NOT CMAKE_MATCH_1 IN_LIST common AND
          NOT CMAKE_MATCH_1 IN_LIST beyond AND
          NOT "${header} ${CMAKE_MATCH_1}" IN_LIST special)
        complain(${header} "may not include <${CMAKE_MATCH_1}>")
      endif()
    elseif(line MATCHES "\"telltale/(([a-z]+)/)?([^\"]+)\"")
      set(target "${CMAKE_MATCH_2}")
      set(rest "${CMAKE_MATCH_3}")
      if(target STREQUAL "")
        # The profile belongs to acquire; monitor and umbrella stand above all.
        if(NOT folder STREQUAL "." AND
            NOT (rest STREQUAL "profile.hpp" AND NOT folder STREQUAL "base"))
          complain(${header} "may not include ${rest}")
        endif()
      elseif(NOT target IN_LIST folders)
        complain(${header} "may not include ${target}/${rest}")
      elseif(rest MATCHES "^checks/" AND folder STREQUAL "detect" AND
          NOT header IN_LIST lists)
        complain(${header} "may not include another check, ${rest}")
      endif()
    else()
      complain(${header} "what is ${line}")
    endif()
  endforeach()
endforeach()

# The host: folder|pattern that must not stand between the marks
set(never
  "src/|\"(commands|support/options|support/exit)"
  "src/report/|\"(ingest|season)/"
  "src/ingest/|\"report/"
  "src/simulate/|\"(ingest|session|report|telltale/detect|telltale/monitor)"
  "tools/commands/|<(csv.h|boost/)"
  "tools/support/|<(csv.h|boost/)"
  "tools/telltale.cpp|<(csv.h|boost/)")
file(GLOB_RECURSE sources RELATIVE ${ROOT} ${ROOT}/src/*.?pp ${ROOT}/tools/*.?pp)
# A report tells how its log was understood: that much of ingest it may know.
set(told "\"ingest/(columns_text|log|log_json|row_tally)\\.hpp\"")
foreach(source IN LISTS sources)
  file(STRINGS ${ROOT}/${source} lines REGEX "^ *# *include")
  foreach(line IN LISTS lines)
    if(line MATCHES "csv.h>" AND source MATCHES "^src/" AND
        NOT source MATCHES "^src/ingest/")
      complain(${source} "may not include the CSV package")
    endif()
    foreach(rule IN LISTS never)
      string(REPLACE "|" ";" parts "${rule}")
      list(GET parts 0 folder)
      string(FIND "${source}" "${folder}" at)
      string(LENGTH "${folder}|" skip)
      string(SUBSTRING "${rule}" ${skip} -1 pattern)
      if(at EQUAL 0 AND line MATCHES "${pattern}" AND
          NOT (source MATCHES "^src/report/" AND line MATCHES "${told}"))
        complain(${source} "may not say ${line}")
      endif()
    endforeach()
  endforeach()
endforeach()

if(complaints)
  list(JOIN complaints "\n" text)
  message(FATAL_ERROR "include rules are broken:\n${text}")
endif()
