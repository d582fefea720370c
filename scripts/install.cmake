# What `cmake --install` puts where, and packages of it: `cpack -G DEB` and `cpack -G TGZ` in the build folder.
include(GNUInstallDirs)

# The manual page and completions come from the program itself.
set(pages ${CMAKE_BINARY_DIR}/pages)
file(MAKE_DIRECTORY ${pages})
add_custom_command(OUTPUT ${pages}/trammel.1 ${pages}/trammel.bash ${pages}/_trammel ${pages}/trammel.fish
  COMMAND trammel manual > ${pages}/trammel.1
  COMMAND trammel completions bash > ${pages}/trammel.bash
  COMMAND trammel completions zsh > ${pages}/_trammel
  COMMAND trammel completions fish > ${pages}/trammel.fish
  DEPENDS trammel VERBATIM)
add_custom_target(trammel_pages ALL
  DEPENDS ${pages}/trammel.1 ${pages}/trammel.bash ${pages}/_trammel ${pages}/trammel.fish)

install(TARGETS trammel RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
install(FILES ${pages}/trammel.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES ${pages}/trammel.bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME trammel)
install(FILES ${pages}/_trammel DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions)
install(FILES ${pages}/trammel.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d)
# Briefs and layouts to start from, linkage templates, the schema.
install(DIRECTORY configs/ DESTINATION ${CMAKE_INSTALL_DATADIR}/trammel)
install(FILES README.md CHANGELOG.md DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(DIRECTORY docs DESTINATION ${CMAKE_INSTALL_DOCDIR})
# Its own licence, and those of what a report contains.
install(FILES LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME copyright)
install(FILES third_party/LICENSE third_party/LICENSE.zrender third_party/LICENSE.d3 third_party/NOTICE
  DESTINATION ${CMAKE_INSTALL_DOCDIR}/charts)

set(CMAKE_SKIP_INSTALL_ALL_DEPENDENCY TRUE)  # a package needs no tests
set(CPACK_GENERATOR DEB TGZ)
set(CPACK_PACKAGE_NAME trammel)
set(CPACK_PACKAGE_VERSION ${PROJECT_VERSION})
set(CPACK_PACKAGE_CONTACT "the authors of trammel <trammel@localhost>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "Searches rear-suspension linkages of bicycles for a brief")
set(CPACK_RESOURCE_FILE_LICENSE ${CMAKE_SOURCE_DIR}/LICENSE)
set(CPACK_STRIP_FILES TRUE)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
include(CPack)
