# Files keep to the ceiling of 400 lines, headers begin by saying what they are,
# and nothing names a path of one machine. ROOT
cmake_minimum_required(VERSION 3.25)
find_package(Git QUIET)
execute_process(COMMAND ${GIT_EXECUTABLE} ls-files
  WORKING_DIRECTORY ${ROOT} OUTPUT_VARIABLE files RESULT_VARIABLE failed
  OUTPUT_STRIP_TRAILING_WHITESPACE ERROR_QUIET)
if(failed OR files STREQUAL "")
  # Not a clone, an unpacked archive: what lies there.
  file(GLOB_RECURSE files RELATIVE ${ROOT} ${ROOT}/include/* ${ROOT}/src/*
    ${ROOT}/tools/* ${ROOT}/tests/* ${ROOT}/datasets/*)
else()
  string(REPLACE "\n" ";" files "${files}")
endif()

set(ceiling 400)
# One long table or one long generator each; not to grow in number.
set(longer tests/host/ingest/header_cases.hpp tests/host/ingest/log_test.cpp
  tests/support/log_writer.cpp)

set(complaints)
foreach(file IN LISTS files)
  if(NOT file MATCHES "\\.(cpp|hpp|h|cmake|sh|md|txt|toml|def|json)$" OR
      NOT EXISTS ${ROOT}/${file})
    continue()
  endif()
  file(READ ${ROOT}/${file} text)
  if(file MATCHES "\\.(cpp|hpp|h)$")
    string(REGEX MATCHALL "\n" lines "${text}")
    list(LENGTH lines count)
    if(count GREATER ceiling AND NOT file IN_LIST longer)
      list(APPEND complaints "${file}: ${count} lines")
    endif()
    if(file MATCHES "hpp$" AND NOT text MATCHES "^// [^\n]")
      list(APPEND complaints "${file}: does not begin by saying what it is")
    endif()
  endif()
  # The brackets keep these lines from finding themselves.
  string(REGEX MATCHALL
    "[/](work|home|root|mnt|Users)/[a-z]+|[/]tmp/[a-z_]+" paths "${text}")
  foreach(path IN LISTS paths)
    if(NOT path MATCHES "^/tmp/telltale")
      list(APPEND complaints "${file}: names the path ${path}")
    endif()
  endforeach()
  string(TOLOWER "${text}" lower)
  if(lower MATCHES "[^a-z](subagen[t]|system promp[t]|language mode[l])")
    list(APPEND complaints "${file}: says '${CMAKE_MATCH_1}'")
  endif()
endforeach()
if(complaints)
  list(JOIN complaints "\n" text)
  message(FATAL_ERROR "files out of order:\n${text}")
endif()
