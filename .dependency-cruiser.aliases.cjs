/** Where $lib leads: dependency-cruiser does not take the path from the generated tsconfig, but from here. */
module.exports = { resolve: { alias: { $lib: require('node:path').join(__dirname, 'src/lib') } } };
