# What is installed, and the packages made of it: a plain archive and a Debian package.
if(TARGET loftbeat)
  install(TARGETS loftbeat RUNTIME)
endif()
if(TARGET loftbeat-window)
  install(TARGETS loftbeat-window RUNTIME)
  set(share "${PROJECT_SOURCE_DIR}/src/window/share")
  install(FILES "${share}/loftbeat.desktop" DESTINATION "${CMAKE_INSTALL_DATADIR}/applications")
  install(FILES "${share}/loftbeat.metainfo.xml" DESTINATION "${CMAKE_INSTALL_DATADIR}/metainfo")
  install(FILES "${share}/loftbeat.svg"
    DESTINATION "${CMAKE_INSTALL_DATADIR}/icons/hicolor/scalable/apps")
  # The demo parish, to begin with.
  install(DIRECTORY "${PROJECT_SOURCE_DIR}/sessions/quaverham/"
    DESTINATION "${CMAKE_INSTALL_DATADIR}/loftbeat/parish" FILES_MATCHING
    PATTERN "*.toml" PATTERN "*.musicxml")
endif()
install(FILES "${PROJECT_SOURCE_DIR}/README.md" "${PROJECT_SOURCE_DIR}/LICENSE" TYPE DOC)

# The ranks, and the recipes that tell their power.
install(DIRECTORY "${PROJECT_SOURCE_DIR}/soundfonts" DESTINATION "${CMAKE_INSTALL_DATADIR}/loftbeat"
  FILES_MATCHING PATTERN "*.toml" PATTERN "ranks.sf2")

set(CPACK_GENERATOR TGZ DEB)
set(CPACK_PACKAGE_NAME loftbeat)
set(CPACK_PACKAGE_CONTACT "The Loftbeat developers <loftbeat@example.org>")
set(CPACK_RESOURCE_FILE_LICENSE "${PROJECT_SOURCE_DIR}/LICENSE")
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION sound)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
include(CPack)
