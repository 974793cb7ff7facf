# A program with a heap does not link the way the bare program does.
# ROOT CXX C WRONG SCRATCH
cmake_minimum_required(VERSION 3.25)
foreach(mistake 0 1 2)
  set(object ${SCRATCH}/heap_${mistake}.o)
  execute_process(COMMAND ${CXX} -std=c++20 -O1 -fno-exceptions -fno-rtti
    -DMISTAKE=${mistake} -c ${WRONG} -o ${object} COMMAND_ERROR_IS_FATAL ANY)
  execute_process(COMMAND ${C} ${object} -Wl,--gc-sections
    -Wl,--wrap=malloc,--wrap=calloc,--wrap=realloc,--wrap=free
    -o ${SCRATCH}/heap_${mistake}
    RESULT_VARIABLE failed OUTPUT_QUIET ERROR_VARIABLE said)
  if(mistake EQUAL 0 AND failed)
    message(FATAL_ERROR "the control does not link either:\n${said}")
  elseif(mistake AND NOT said MATCHES "undefined|unresolved")
    message(FATAL_ERROR "mistake ${mistake} linked")
  endif()
endforeach()
