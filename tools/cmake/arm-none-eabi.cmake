# Debian's bare-metal toolchain (gcc-arm-none-eabi and its newlib and libstdc++
# packages) for the controller named by TELLTALE_MCU.
set(CMAKE_SYSTEM_NAME Generic)
set(CMAKE_SYSTEM_PROCESSOR arm)
set(CMAKE_C_COMPILER arm-none-eabi-gcc)
set(CMAKE_CXX_COMPILER arm-none-eabi-g++)
# A program would need the start-up code of mcu_replay.
set(CMAKE_TRY_COMPILE_TARGET_TYPE STATIC_LIBRARY)
list(APPEND CMAKE_TRY_COMPILE_PLATFORM_VARIABLES TELLTALE_MCU)

if(TELLTALE_MCU STREQUAL "cortex-m0plus")
  set(_machine "-mcpu=cortex-m0plus -mthumb -mfloat-abi=soft")
else()
  set(_machine "-mcpu=cortex-m4 -mthumb -mfloat-abi=hard -mfpu=fpv4-sp-d16")
endif()
set(_small "-Os -DNDEBUG -ffunction-sections -fdata-sections \
-fno-math-errno")
set(CMAKE_C_FLAGS_INIT "${_machine} ${_small}")
set(CMAKE_CXX_FLAGS_INIT "${_machine} ${_small} -fno-exceptions -fno-rtti \
-fno-threadsafe-statics -fno-use-cxa-atexit")
set(CMAKE_EXE_LINKER_FLAGS_INIT "${_machine} --specs=nano.specs \
-nostartfiles -Wl,--gc-sections")
