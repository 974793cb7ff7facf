# Installs the core and its package files, so that find_package(telltale)
# works for a stranger. The host library stays inside the project.
include(CMakePackageConfigHelpers)

install(TARGETS telltale_core EXPORT telltale-targets)
install(DIRECTORY include/ DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}
  FILES_MATCHING PATTERN "*.hpp" PATTERN "*.def" PATTERN "*.h")
install(EXPORT telltale-targets NAMESPACE telltale::
  DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/telltale)

set(telltale_config ${CMAKE_CURRENT_BINARY_DIR}/telltale-config.cmake)
file(WRITE ${telltale_config}
  "include(\"\${CMAKE_CURRENT_LIST_DIR}/telltale-targets.cmake\")\n")
write_basic_package_version_file(
  ${CMAKE_CURRENT_BINARY_DIR}/telltale-config-version.cmake
  COMPATIBILITY SameMinorVersion ARCH_INDEPENDENT)
install(FILES ${telltale_config}
  ${CMAKE_CURRENT_BINARY_DIR}/telltale-config-version.cmake
  DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/telltale)
