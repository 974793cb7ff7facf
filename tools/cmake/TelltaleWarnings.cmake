# telltale_private_options(target): how our own code is compiled.
function(telltale_private_options target)
  target_compile_options(${target} PRIVATE
    -Wall -Wextra -Wpedantic -Wconversion -Wshadow
    $<$<COMPILE_LANGUAGE:CXX>:-Wnon-virtual-dtor>)
  # g++ 12 sees overlapping copies in std::string's operator+ (GCC bug 105329).
  if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND
      CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
    target_compile_options(${target} PRIVATE $<$<COMPILE_LANGUAGE:CXX>:-Wno-restrict>)
  endif()
  # The same sums on every machine: no fused multiply-add behind our back.
  target_compile_options(${target} PRIVATE -ffp-contract=off)
  # Functions begin with a line of the cache: else speed depends, by a few
  # percent either way, on where the linker happens to put them.
  target_compile_options(${target} PRIVATE
    $<$<AND:$<COMPILE_LANGUAGE:CXX>,$<CONFIG:Release>>:-falign-functions=64>)
  # Memory can be asked for to be written (support/prefetch.hpp): x86-64
  # processors that can't do it take that for nothing.
  if(CMAKE_SYSTEM_PROCESSOR MATCHES "^(x86_64|AMD64)$")
    target_compile_options(${target} PRIVATE -mprfchw)
  endif()
  if(TELLTALE_WERROR)
    target_compile_options(${target} PRIVATE -Werror)
  endif()
  if(TELLTALE_SANITIZE)
    target_compile_options(${target} PRIVATE
      -fsanitize=${TELLTALE_SANITIZE} -fno-omit-frame-pointer
      -fno-sanitize-recover=all)
    target_link_options(${target} PRIVATE -fsanitize=${TELLTALE_SANITIZE})
  endif()
endfunction()

# telltale_precompile(target): compiles once what nearly every file of it
# includes: a quarter of the time. Presets that look for what a file forgets to
# include switch it off (CMAKE_DISABLE_PRECOMPILE_HEADERS).
function(telltale_precompile target)
  target_precompile_headers(${target} PRIVATE
    <algorithm> <functional> <memory> <optional> <string> <vector>
    <fmt/format.h>)
endfunction()
