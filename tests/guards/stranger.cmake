# Installs the headers to a fresh prefix; a stranger's project finds them there,
# builds its program and runs it. ROOT CXX VERSION SCRATCH
cmake_minimum_required(VERSION 3.25)
file(REMOVE_RECURSE ${SCRATCH})
function(run)
  execute_process(COMMAND ${ARGV} RESULT_VARIABLE failed
    OUTPUT_VARIABLE said ERROR_VARIABLE said)
  if(failed)
    list(JOIN ARGV " " line)
    message(FATAL_ERROR "${line}\n${said}")
  endif()
  set(said "${said}" PARENT_SCOPE)
endfunction()

run(${CMAKE_COMMAND} -S ${ROOT} -B ${SCRATCH}/core -DCMAKE_CXX_COMPILER=${CXX}
  -DTELLTALE_BUILD_HOST=OFF -DTELLTALE_BUILD_TOOLS=OFF
  -DTELLTALE_BUILD_TESTS=OFF)
run(${CMAKE_COMMAND} --install ${SCRATCH}/core --prefix ${SCRATCH}/prefix)
run(${CMAKE_COMMAND} -S ${ROOT}/tests/guards/stranger -B ${SCRATCH}/stranger
  -DCMAKE_CXX_COMPILER=${CXX} -DCMAKE_PREFIX_PATH=${SCRATCH}/prefix
  -DWANTED=${VERSION})
run(${CMAKE_COMMAND} --build ${SCRATCH}/stranger)
run(${SCRATCH}/stranger/stranger)
if(NOT said MATCHES "charging-low: 12\\.6")
  message(FATAL_ERROR "the stranger's program said:\n${said}")
endif()
# Nothing but the promise is installed: no tests, no host.
file(GLOB_RECURSE installed RELATIVE ${SCRATCH}/prefix ${SCRATCH}/prefix/*)
foreach(file IN LISTS installed)
  if(NOT file MATCHES "^include/telltale/.*\\.(hpp|def|h)$" AND
      NOT file MATCHES "^(lib|lib64|lib/[^/]+)/cmake/telltale/[^/]+\\.cmake$")
    message(FATAL_ERROR "why is ${file} installed?")
  endif()
endforeach()
